"""Showing one job to somebody outside by a link that cannot be guessed, ends, and can be revoked."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from django.utils import timezone

from bolewright.store.models import KeptJob, Share, ShareOpening
from bolewright.store.people import Refused
from bolewright.store.tokens import fresh_token, token_hash

DAYS = (7, 30, 90)
PARTS = ("numbers", "photos")


def make_share(job: KeptJob, label: str, parts: set[str], papers: Sequence[str], days: int,
               by: str) -> tuple[Share, str]:  # fmt: skip
    """A link and its secret, which is not kept. Raises Refused when nothing would be seen or nobody is named."""
    if not label.strip():
        raise Refused("Write down whom the link is for: it stands in the list and in the log.")
    if not parts & set(PARTS) and not papers:
        raise Refused("Choose what is seen by the link: one thing at least.")
    token, digest = fresh_token()
    until = timezone.now() + timedelta(days=days if days in DAYS else DAYS[0])
    seen = {part: part in parts for part in PARTS}
    made = Share.objects.create(
        job=job, label=label.strip()[:80], expires_at=until, made_by=by[:80], digest=digest,
        paper_names=list(papers), **seen,
    )  # fmt: skip
    return made, token


def share_of(token: str) -> Share | None:
    """The link a secret belongs to, while it is open."""
    found = Share.objects.filter(digest=token_hash(token)).select_related("job").first()
    return found if found is not None and found.state == "open" else None


def note_opening(share: Share, what: str, address: str, program: str) -> None:
    """Write down that it was opened; looking again within a minute is the same opening."""
    soon = timezone.now() - timedelta(minutes=1)
    if share.openings.filter(what=what[:60], address=address[:45], program=program[:200], at__gte=soon).exists():
        return
    ShareOpening.objects.create(share=share, what=what[:60], address=address[:45], program=program[:200])
