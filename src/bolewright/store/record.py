"""The company's record of hours, collected from the jobs kept here."""

from __future__ import annotations

import json
from dataclasses import asdict, replace
from functools import lru_cache

from django.db import IntegrityError, transaction

from bolewright.core.base.errors import BolewrightError
from bolewright.job.faults import JobFaults
from bolewright.job.model import Job
from bolewright.job.rates import Rates
from bolewright.job.read import from_tables
from bolewright.planning.haul.record import Earlier, Record, amounts, earlier_job, record
from bolewright.planning.haul.results import Amounts
from bolewright.store.edits import Edit, Tables, changes
from bolewright.store.models import Answer, KeptJob, Revision, ToDo
from bolewright.store.results import engine, fingerprint, read
from bolewright.store.revisions import read_document, revision_of, save, tables

EXAMPLE = "An example with invented data."
NOT_READ = "Something in it cannot be read: mend what its pages name."
MOST_LOOKED_AT = 400  # the newest


def record_for(kept: KeptJob, job: Job) -> Record:
    """What the other jobs here teach this one. Only jobs with hours worked are looked at."""
    found = []
    for other in KeptJob.objects.exclude(pk=kept.pk)[:MOST_LOOKED_AT]:
        latest = other.latest
        if "[[worked]]" in latest.text:  # as a document is always kept; spares reading all the others
            found.append(_earlier(other, latest, job.rates))
    return record(job, found, kept.key)


def take(kept: KeptJob, base: Revision, found: Record, by: str) -> Revision:
    """Bring the record into the job as a revision; what it has of other jobs stays."""
    before = tables(base)
    rates = dict(before.get("rates") or {})
    own = list(rates.get("actual") or ())
    rates["actual"] = [*(own[n] for n in found.stays), *found.rows]
    after: Tables = {**before, "rates": rates}
    what = f"took in the hours of {found.counted} earlier job{'' if found.counted == 1 else 's'}"
    return save(kept, base.number, changes(before, after), by, what).revision


def leave_out(other: KeptJob, why: str, by: str) -> Revision:
    """Keep a job's hours out of the record with a word, or with "" let them count again."""
    what = "left its hours out of the record" if why else "let its hours count again"
    return save(other, other.latest.number, [Edit(("rates", "left_out"), why or None)], by, what).revision


def _earlier(other: KeptJob, latest: Revision, times: Rates) -> Earlier:
    """One job kept here, as others learn from it."""
    done = _read(latest.text)
    if done is None:
        return Earlier(_title(latest), "", None, other.key, NOT_READ)
    if other.example:
        return Earlier(done.job.title, done.job.site or "", done.job.date, other.key, EXAMPLE)
    kept_out = earlier_job(done, None, False, times, other.key)
    if kept_out.why:
        return kept_out
    plan, title = plan_before_work(other)
    try:
        return earlier_job(done, _todo(other, latest, plan, title), plan is not None, times, other.key)
    except BolewrightError as fault:
        return earlier_job(done, fault, False, times, other.key)


def plan_before_work(job: KeptJob) -> tuple[Answer | None, str]:
    """The plan a job began with and its title: the last one taken before a step was done, else the
    newest such answer."""
    taken = [(line.answer, line.about) for line in job.log.filter(kind="plan", answer__isnull=False)]
    rest = [(answer, "") for answer in job.answers.all()]
    for answer, title in (*reversed(taken), *reversed(rest)):
        if answer is not None and _is_whole(job, answer):
            return answer, title
    return None, ""


def _is_whole(job: KeptJob, answer: Answer) -> bool:
    """Whether an answer found an order of cuts for the tree as it lay, and its document is still known."""
    text = revision_of(job, answer.revision).text
    if fingerprint(text) != answer.document or read_document(text).get("done"):
        return False
    return read(answer.text).cuts.status == "plan"


def _todo(job: KeptJob, latest: Revision, plan: Answer | None, title: str) -> Amounts:
    """What there was to do, worked out once for each plan and kept. Raises as the way out does."""
    text = revision_of(job, plan.revision).text if plan is not None else latest.text
    mark = fingerprint("\n".join((text, title, str(plan.document if plan is not None else ""))))
    known = ToDo.objects.filter(job=job, document=mark, engine=engine()).first()
    if known is not None:
        return Amounts(**json.loads(known.text))
    found = _worked_out(text, plan, title)
    try:
        with transaction.atomic():
            ToDo.objects.create(job=job, document=mark, engine=engine(), text=json.dumps(asdict(found)))
    except IntegrityError:  # another page did at the same moment
        pass
    return found


def _worked_out(text: str, plan: Answer | None, title: str) -> Amounts:
    job = _read(text)
    if job is None:
        raise BolewrightError(NOT_READ)
    if plan is None:
        return amounts(job, None)
    worked = read(plan.text)
    return amounts(job, replace(worked.cuts, chosen=worked.plan(title)), worked.weigh)


def _title(revision: Revision) -> str:
    facts = tables(revision).get("job")
    return str(facts.get("title") or "Job without a title") if isinstance(facts, dict) else "Job without a title"


@lru_cache(maxsize=256)
def _read(text: str) -> Job | None:
    """The job in a document; None while something in it cannot be read."""
    try:
        return from_tables(read_document(text))
    except JobFaults:
        return None
