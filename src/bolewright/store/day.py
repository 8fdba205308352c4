"""The day's log: ticks, observations and stops, each a line that is never altered."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from bolewright.store.models import Answer, KeptJob, LogEntry

BEFORE_SIGNED = "done before the change order was signed"


@dataclass(frozen=True)
class Ticks:
    """Which steps of a plan are done, and when they were ticked."""

    done: dict[int, LogEntry]

    def next_of(self, numbers: list[int]) -> int | None:
        """The first step not ticked yet."""
        return next((n for n in numbers if n not in self.done), None)


def write(job: KeptJob, kind: str, by: str, said: str = "", about: str = "", answer: Answer | None = None,
          step: int | None = None, made_at: datetime | None = None) -> LogEntry:  # fmt: skip
    """Add a line to the log; `made_at` when it was kept on a tablet without signal until now."""
    return LogEntry.objects.create(
        job=job, kind=kind, by=by[:80], said=said[:500], about=about[:80], answer=answer, step=step, made_at=made_at
    )


def ticks(answer: Answer) -> Ticks:
    """The steps of this answer that stand ticked."""
    done: dict[int, LogEntry] = {}
    for entry in answer.log.filter(kind__in=("ticked", "unticked")).order_by("at", "pk"):
        if entry.step is None:
            continue
        if entry.kind == "ticked":
            done[entry.step] = entry
        else:
            done.pop(entry.step, None)
    return Ticks(done)


def before_signed(answer: Answer) -> list[LogEntry]:
    """Ticks that stand, of steps done without signal while changed work waited for its change order."""
    return [entry for entry in ticks(answer).done.values() if BEFORE_SIGNED in entry.said]


def standing_stops(job: KeptJob) -> list[LogEntry]:
    """The stops since work last went on."""
    found: list[LogEntry] = []
    for entry in job.log.filter(kind__in=("stopped", "went on")):
        found = [*found, entry] if entry.kind == "stopped" else []
    return found


def is_before(entry: LogEntry, then: datetime | None) -> bool:
    """Whether an entry kept without signal was made before a time; False for one made with signal."""
    return entry.made_at is not None and then is not None and entry.made_at <= then


def plan_in_use(job: KeptJob) -> tuple[Answer, str] | None:
    """The answer and the title of the plan the crew works from; None when nothing was chosen."""
    last = job.log.filter(kind="plan", answer__isnull=False).last()
    return (last.answer, last.about) if last is not None and last.answer is not None else None
