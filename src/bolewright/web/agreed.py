"""The price agreed beside the price of the plan as it is now, for the page of the day."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from bolewright.core.base.errors import BadInput
from bolewright.documents.parts import money, money_range
from bolewright.planning.haul.change import Change, change, most_moved, why
from bolewright.store.answers import kept_answer
from bolewright.store.models import KeptJob, SignedPaper
from bolewright.store.signed import CHANGE_ORDER, newest
from bolewright.web.pages.common import data_folder
from bolewright.web.records import AGREED_ON, PRICES, given, records_of

MOST_LINES = 6


@dataclass(frozen=True)
class Moved:
    """A price that is no longer the one agreed: before and now as (likely, range), and why."""

    paper: str
    when: str
    before: tuple[str, str]
    now: tuple[str, str]
    words: str
    cause: str  # what the new plan counts with that the old one did not
    lines: tuple[str, ...]
    over: str  # the sum not to be exceeded where it is passed, "" where it is not


def price_moved(job: KeptJob) -> Moved | None:
    """How the plan's price has moved since it was last signed; None where nothing was, or it has not.

    Only once the order is worked out for the job as saved: the price of a job without an order is another thing.
    """
    row = _last_agreed(job)
    answer = kept_answer(job, job.latest.text) if row is not None else None
    if row is None or answer is None:
        return None
    found = given(job.latest.text, answer.text, records_of(job, job.latest, answer, data_folder()))
    if found is None or found.price is None:
        return None
    try:
        moved = change(PRICES.validate_json(row.price), found.price)
    except BadInput:  # in another currency
        return None
    if moved.old_total == moved.new_total:
        return None
    ceiling = found.price.ceiling
    over = money(ceiling, moved.currency) if ceiling is not None and moved.new_total[1] > ceiling else ""
    return _told(row, moved, _cause(len(found.job.done), len(found.job.reading)), over)


def _last_agreed(job: KeptJob) -> SignedPaper | None:
    """The newest signature on a paper that carries a price."""
    signed = newest(job)
    rows = [signed[name] for name in (*AGREED_ON, CHANGE_ORDER) if name in signed and signed[name].price]
    return max(rows, key=lambda row: row.signed_at, default=None)


def _told(row: SignedPaper, moved: Change, cause: str, over: str) -> Moved:
    sign, lines = moved.currency, most_moved(moved)
    said = [f"{line.what}: {why(line)} ({_more(line.difference[1], sign)})" for line in lines[:MOST_LINES]]
    if len(lines) > MOST_LINES:
        said.append(f"and {len(lines) - MOST_LINES} lines that moved less")
    return Moved(
        row.paper.replace("-", " "),
        f"{row.signed_at:%Y-%m-%d %H:%M} UTC",
        money_range(moved.old_total, sign),
        money_range(moved.new_total, sign),
        moved.words.split(";")[0],
        cause,
        tuple(said),
        over,
    )


def _more(difference: Decimal, sign: str) -> str:
    if difference == 0:
        return "the same as likely"
    return f"{money(abs(difference), sign)} {'more' if difference > 0 else 'less'}"


def _cause(done: int, read: int) -> str:
    """What was learnt on the way."""
    counts = ((done, "step", "steps"), (read, "reading", "readings"))
    said = " and ".join(f"{n} {one if n == 1 else many}" for n, one, many in counts if n)
    return f"The plan was worked out anew after {said}." if said else "The plan was worked out anew."
