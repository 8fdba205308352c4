"""Two records of a tree in their words: observations, targets, rating, dates, and whether it is one tree at all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from bolewright.job.inspection import Observation
from bolewright.job.model import Job
from bolewright.planning.standing.changes import WordChange
from bolewright.planning.standing.results import StandResult
from bolewright.reference import find_species

YEAR = 365.25  # days
# (state before, state after): what that says
STEPS = {
    ("seen", "not seen"): "no longer seen",
    ("seen", "could not see"): "could not be seen again",
    ("not seen", "seen"): "new",
    ("not seen", "could not see"): "could not be seen this time",
    ("could not see", "seen"): "seen now, hidden then: it may be old",
    ("could not see", "not seen"): "looked at now, hidden then",
    ("", "seen"): "seen now, not written down then: it may be old",
    ("seen", ""): "not looked for again",
}


def day_of(job: Job) -> date | None:
    """Day of the inspection, else the job's."""
    if job.inspection is not None and job.inspection.date is not None:
        return job.inspection.date
    return job.job.date


def years_between(earlier: Job, later: Job) -> float | None:
    """Years from one inspection to the other, minus if they are in the wrong order; None where a day is missing."""
    first, last = day_of(earlier), day_of(later)
    return None if first is None or last is None else (last - first).days / YEAR


def doubts_of(earlier: Job, later: Job) -> tuple[str, ...]:
    """Signs that these are not two records of one tree in order, or that they were not made alike."""
    return tuple(_doubts(earlier, later))


def _doubts(earlier: Job, later: Job) -> Iterator[str]:
    kinds = [find_species(job.tree.species).scientific_name for job in (earlier, later)]
    if kinds[0] != kinds[1]:
        yield f"One record says {earlier.tree.species}, the other {later.tree.species}: is it the same tree?"
    sites = [" ".join((job.job.site or "").lower().split()) for job in (earlier, later)]
    if all(sites) and sites[0] != sites[1]:
        yield f'One record is of "{earlier.job.site}", the other of "{later.job.site}": is it the same tree?'
    years = years_between(earlier, later)
    if years is None:
        yield "A day is missing from one of the records: no change can be told per year."
    elif years < 0.0:
        yield "The record given as the earlier one is the later: change the order."
    elif years == 0.0:
        yield "Both records are of the same day: nothing can be told per year."
    thick = [job.tree.dbh for job in (earlier, later)]
    if thick[0] is not None and thick[1] is not None and thick[1].high < 0.97 * thick[0].low:
        yield f"The stem is said to have shrunk from {thick[0]} to {thick[1]}: one was taken at another height."
    inspectors = [job.inspection.inspector if job.inspection is not None else None for job in (earlier, later)]
    if all(inspectors) and inspectors[0] != inspectors[1]:
        yield "Two people looked: what one calls seen the other may not."


def observation_changes(earlier: Job, later: Job) -> tuple[WordChange, ...]:
    """What was looked for at either inspection, state then and now."""
    then, now = _by_thing(earlier), _by_thing(later)
    found = []
    for key in dict.fromkeys([*then, *now]):
        before, after = then.get(key, []), now.get(key, [])
        states = _state(before), _state(after)
        old, new = ("; ".join(_told(o) for o in side) for side in (before, after))
        words = STEPS.get(states, "as then" if states[0] == states[1] else "not written down both times")
        sized = states == ("seen", "seen") and old != new
        if sized:
            words = "seen both times, described otherwise"
        changed = sized or (states[0] != states[1] and "seen" in states)
        found.append(WordChange(key[0], key[1], old, new, changed, words))
    return tuple(found)


def _by_thing(job: Job) -> dict[tuple[str, str], list[Observation]]:
    """Observations of the same thing together: it may have been looked for on several sides."""
    found: dict[tuple[str, str], list[Observation]] = {}
    for o in job.inspection.observation if job.inspection is not None else ():
        found.setdefault((o.group, o.what.lower()), []).append(o)
    return found


def _state(observations: Sequence[Observation]) -> str:
    """Seen where it was seen on any side, else hidden where any side was; "" where nothing was written."""
    states = {o.state for o in observations}
    return next((state for state in ("seen", "could not see", "not seen") if state in states), "")


def _told(observation: Observation) -> str:
    """State with size, height, side and note, as written."""
    more = (observation.side, observation.height, observation.size, observation.note)
    said = ", ".join(str(part) for part in more if part is not None)
    return f"{observation.state}: {said}" if said else observation.state


def target_changes(then: StandResult, now: StandResult) -> tuple[WordChange, ...]:
    """Targets by id: how they lie and how often someone is there, then and now."""
    before = {t.id: f"{t.what}, {t.reach}, people there {t.occupancy}, protection {t.protection}" for t in then.targets}
    after = {t.id: f"{t.what}, {t.reach}, people there {t.occupancy}, protection {t.protection}" for t in now.targets}
    found = []
    for key in dict.fromkeys([*before, *after]):
        old, new = before.get(key, ""), after.get(key, "")
        words = "new" if not old else "gone" if not new else "as then" if old == new else "changed"
        found.append(WordChange("targets", key, old, new, old != new, words))
    return tuple(found)


def rating_changes(earlier: Job, later: Job, then: StandResult, now: StandResult) -> tuple[WordChange, ...]:
    """The assessors' choices and what the tables made of them, then and now."""
    pairs = {pair.id for result in (then, now) for pair in result.judgement.pairs if pair.id}
    rows = [
        ("part and target", _aim(then), _aim(now)),
        ("failure", then.judgement.failure, now.judgement.failure),
        ("impact", then.judgement.impact, now.judgement.impact),
        ("consequences", then.judgement.consequences, now.judgement.consequences),
        ("risk", then.judgement.rating, now.judgement.rating),
        *((f"risk, {name}", _pair_risk(then, name), _pair_risk(now, name)) for name in sorted(pairs)),
    ]
    return tuple(
        WordChange("rating", what, old or "", new or "", (old or "") != (new or ""), _step(old or "", new or ""))
        for what, old, new in rows
    )


def _pair_risk(result: StandResult, name: str) -> str | None:
    return next((pair.rating for pair in result.judgement.pairs if pair.id == name), None)


def _aim(result: StandResult) -> str:
    return ", ".join(part for part in (result.judgement.part, result.judgement.target) if part)


def _step(old: str, new: str) -> str:
    if old == new:
        return "as then"
    return "not chosen then" if not old else "not chosen now" if not new else "changed"


def due_words(earlier: Job, later: Job) -> str:
    """The look again asked for at the earlier inspection against the day it was done; "" where none was asked for."""
    asked = earlier.rating.reinspect if earlier.rating is not None else None
    done = day_of(later)
    if asked is None or done is None:
        return ""
    late = (done - asked).days
    if late > 0:
        return f"The look again was due on {asked.day} {asked:%B %Y} and done {late} days after it."
    return f"The look again was due on {asked.day} {asked:%B %Y} and done in time."
