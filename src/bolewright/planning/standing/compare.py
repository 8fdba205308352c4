"""Two inspections of the same tree: what changed, by how much, and whether that is more than the measurement."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.standing.change import told_apart
from bolewright.core.standing.failing import worst_direction
from bolewright.core.standing.unknowns import Draws, draw_unknowns
from bolewright.job.model import Job
from bolewright.planning.both import both_lengths
from bolewright.planning.standing import defaults
from bolewright.planning.standing.case import Whole, whole_of
from bolewright.planning.standing.changes import CHANGED, ONLY_NOW, ONLY_THEN, WITHIN, Change, Comparison
from bolewright.planning.standing.measured import Reading, measured_of
from bolewright.planning.standing.options import failing_gust
from bolewright.planning.standing.records import (
    doubts_of,
    due_words,
    observation_changes,
    rating_changes,
    target_changes,
    years_between,
)
from bolewright.planning.standing.results import StandResult
from bolewright.planning.standing.stand import stand
from bolewright.planning.standing.tests import SAME_HEIGHT

ALIKE = ("season", "ice", "terrain", "wind_form", "soil_state")  # of the day, not of the tree
ANEW = ("width", "height", "size", "lean", "shell")  # measured afresh each time: their errors are independent
LESS, MORE, SAME = "less wind than then", "more wind than then", "no difference that can be told"


def compare(earlier: Job, later: Job) -> Comparison:
    """Everything that two records of a standing tree tell about what happened to it in between.

    Raises NotEnoughKnown where either cannot be worked out by itself.
    """
    then, now = stand(earlier), stand(later)
    years = years_between(earlier, later)
    alike, conditions = _under_the_same(earlier, later)
    ratio = _gust_ratio(alike, later)
    measured = _changes(measured_of(earlier), measured_of(later), years)
    inspections = earlier.inspection, later.inspection
    dates = [i.date.isoformat() if i is not None and i.date is not None else "" for i in inspections]
    names = [i.inspector or "" if i is not None else "" for i in inspections]
    stands = MORE if ratio.low > 1.0 else LESS if ratio.high < 1.0 else SAME
    found = Comparison(
        earlier_title=earlier.job.title,
        later_title=later.job.title,
        earlier_date=dates[0],
        later_date=dates[1],
        years=years,
        earlier_inspector=names[0],
        later_inspector=names[1],
        doubts=doubts_of(earlier, later),
        measured=measured,
        answers=tuple(_answers(then, now)),
        gust_ratio=ratio,
        stands=stands,
        conditions=conditions,
        observations=observation_changes(earlier, later),
        targets=target_changes(then, now),
        rating=rating_changes(earlier, later, then, now),
        due=due_words(earlier, later),
        words=(),
        earlier=then,
        later=now,
    )
    return replace(found, words=tuple(_words(found)))


def _under_the_same(earlier: Job, later: Job) -> tuple[Job, tuple[str, ...]]:
    """The earlier tree under the later record's season, ground and wind profile, and what had to be changed."""
    assert earlier.standing is not None
    assert later.standing is not None
    changed = [f for f in ALIKE if getattr(earlier.standing, f) != getattr(later.standing, f)]
    update = {field: getattr(later.standing, field) for field in changed}
    words = [f"{field.replace('_', ' ')}: {getattr(later.standing, field) or 'not known'}" for field in changed]
    if "season" in changed and earlier.standing.crown_filled is not None:
        update["crown_filled"] = None
        words.append("share of the crown filled: filled in, as it was read in another season")
    return earlier.model_copy(update={"standing": earlier.standing.model_copy(update=update)}), tuple(words)


def _gust_ratio(earlier: Job, later: Job) -> Range:
    """Failing gust of the later tree over the earlier one's, sampled in pairs.

    How the crown drags, how strong the wood is and what roots like these hold is the same tree's both times, so those
    unknowns are shared; what was measured anew errs anew.
    """
    then, now = whole_of(earlier), whole_of(later)
    each = max(later.limits.samples // defaults.GROUPS, 1)
    seed = later.limits.seed
    gusts = []
    for whole, own in ((then, seed + 1), (now, seed + 2)):
        shared = draw_unknowns(whole.unknowns, defaults.GROUPS, each, np.random.default_rng(seed))
        fresh = draw_unknowns(whole.unknowns, defaults.GROUPS, each, np.random.default_rng(own))
        values = {**shared.values, **{name: fresh[name] for name in _anew(whole)}}
        way = worst_direction(whole.case, whole.unknowns)
        gusts.append(failing_gust(whole.case, Draws(values, shared.groups), way))
    return Range.of_samples(np.maximum(gusts[1], 0.1) / np.maximum(gusts[0], 0.1))


def _anew(whole: Whole) -> tuple[str, ...]:
    more = ("filled",) if whole.tree.standing.crown_filled is not None else ()
    return (*ANEW, *more, *(("anchorage",) if whole.roots.measured else ()))


def _changes(before: Sequence[Reading], after: Sequence[Reading], years: float | None) -> tuple[Change, ...]:
    """Readings of the same thing paired; those made once only marked so."""
    left = list(before)
    found = []
    for reading in after:
        match = next((r for r in left if r.same_thing(reading)), None)
        if match is not None:
            left.remove(match)
        found.append(_change(reading, match, reading, years))
    return (*found, *(_change(reading, reading, None, years) for reading in left))


def _change(named: Reading, before: Reading | None, after: Reading | None, years: float | None) -> Change:
    usual = any(r.usual_error for r in (before, after) if r is not None)
    if before is None or after is None:
        verdict = ONLY_NOW if before is None else ONLY_THEN
        ends = before.value if before else None, after.value if after else None
        return Change(named.group, named.what, named.kind, *ends, None, None, verdict, usual)
    return _told(named.group, named.what, named.kind, before.value, after.value, years, usual)


def _told(group: str, what: str, kind: str, before: Range, after: Range, years: float | None, usual: bool) -> Change:
    rise = after.likely - before.likely
    verdict = CHANGED if told_apart(before, after) else WITHIN
    return Change(group, what, kind, before, after, rise, rise / years if years else None, verdict, usual)


def _answers(then: StandResult, now: StandResult) -> Iterator[Change]:
    """What was worked out of either record as written, side by side; their unknowns are not taken off."""

    def row(what: str, kind: str, before: Range, after: Range) -> Change:
        return _told("answer", what, kind, before, after, None, False)

    yield row("fails in gusts of", "speed", then.gust_m_s, now.gust_m_s)
    yield row("stem breaks in gusts of", "speed", then.stem_gust_m_s, now.stem_gust_m_s)
    yield row("roots let go in gusts of", "speed", then.roots.gust_m_s, now.roots.gust_m_s)
    yield row("hold of the roots", "moment", then.roots.capacity_Nm, now.roots.capacity_Nm)
    tested = [section for section in then.sections if section.measured]
    for section in (s for s in now.sections if s.measured):
        match = next((s for s in tested if abs(s.height_m - section.height_m) <= SAME_HEIGHT), None)
        if match is not None:
            what = f"strength lost at {both_lengths(section.height_m)}"
            yield row(what, "share", match.loss_range, section.loss_range)


def _words(found: Comparison) -> Iterator[str]:
    """The comparison in sentences, what matters most first."""
    ratio = found.gust_ratio
    span = f"{ratio.likely:.2f} times ({ratio.low:.2f} to {ratio.high:.2f}) the gust it failed in then"
    said = {
        LESS: f"It stands less wind than then: {span}, under the same conditions.",
        MORE: f"It stands more wind than then: {span}, under the same conditions.",
        SAME: f"No difference in the wind it stands can be told: {span}, under the same conditions.",
    }
    yield said[found.stands]
    changed = [c for c in found.measured if c.verdict == CHANGED]
    yield (
        f"Changed beyond the measurement: {', '.join(c.what for c in changed)}."
        if changed
        else "No measurement changed by more than the two can be off together."
    )
    lost = [c.what for c in found.measured if c.verdict == ONLY_THEN]
    if lost:
        yield f"Measured then and not again: {', '.join(lost)}."
    new = [c.what for c in found.observations if c.words == "new"]
    if new:
        yield f"Seen now and not then: {', '.join(new)}."
    if found.due:
        yield found.due
    if found.years is not None and not math.isclose(found.years, 0.0):
        yield f"{found.years:.1f} years lie between the two."
