"""Answers kept as they were given, one for each document worked out."""

from __future__ import annotations

from bolewright.store.models import Answer, KeptJob
from bolewright.store.results import engine, fingerprint


def kept_answer(job: KeptJob, document: str) -> Answer | None:
    """The answer to this very document, None when it has not been worked out."""
    return job.answers.filter(document=fingerprint(document), engine=engine()).first()


def keep_answer(job: KeptJob, revision: int, document: str, text: str, seconds: float) -> Answer:
    """Keep an answer; one already kept for the same document stands."""
    known = kept_answer(job, document)
    if known is not None:
        return known
    return Answer.objects.create(
        job=job, revision=revision, document=fingerprint(document), engine=engine(), seconds=seconds, text=text
    )
