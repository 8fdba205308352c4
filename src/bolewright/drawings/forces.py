"""Supports and their forces: an arrow whose area grows with force, a mark for the state, and what it is called."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bolewright.core.base.range import Range
from bolewright.drawings import units as u
from bolewright.drawings.callouts import Callout, Words
from bolewright.drawings.frame import View
from bolewright.drawings.ink import MEDIUM, SMALL, TEXT, THIN
from bolewright.drawings.labels import Placer
from bolewright.drawings.shapes import moved, unit
from bolewright.drawings.structures import LINES
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.units import Units
from bolewright.planning.results import CutStep, HoldResult, Plan, SupportForce
from bolewright.planning.shapes import Point, Scene, SupportShape

CARRIES, IDLE, CLEAR = "carries", "touches, carries nothing", "not touching"
HEAD, HEAD_HALF, SHAFT_HALF = 0.38, 0.21, 0.085  # of an arrow's length; fixed, so area goes with length squared
NOTHING = 0.004  # of the greatest force drawn: below this a support is said to carry nothing
CHANGED = 0.05  # share of change from which a strip says what a support carried before
MARK = 9.0


@dataclass(frozen=True)
class Shown:
    """One support as a drawing shows it."""

    id: str
    kind: str
    point: Point
    foot: Point
    direction: Point  # of the force on the tree
    force: Range | None
    state: str
    gap: Range | None = None
    bound: float = math.inf
    limit: float | None = None
    was: Range | None = None


@dataclass(frozen=True)
class ForceScale:
    """Arrow length for a force: area goes with force, so length goes with its square root."""

    biggest: float
    longest: float

    def length(self, newtons: float) -> float:
        """Length of the arrow on the sheet."""
        return self.longest * math.sqrt(min(abs(newtons) / self.biggest, 1.0)) if self.biggest > 0 else 0.0


def scale_for(hold: HoldResult | None, plan: Plan | None, longest: float) -> ForceScale:
    """One scale for all forces shown, so that arrows can be compared from step to step."""
    ranges = [s.force_N for s in hold.supports] if hold else []
    for step in plan.steps if plan else ():
        ranges += [*step.forces_before.values(), *step.forces_after.values()]
    return ForceScale(max((max(abs(r.high), abs(r.low)) for r in ranges), default=0.0), longest)


def as_found(scene: Scene, hold: HoldResult | None) -> list[Shown]:
    """The supports as found; geometry alone when nothing was worked out."""
    if hold is None:
        return [Shown(s.id, s.kind, s.point, s.foot, _default_direction(s), None, "") for s in scene.supports
                if s.kind != "possible"]  # fmt: skip
    feet = {s.id: s.foot for s in scene.supports}
    return [
        Shown(f.id, f.kind, f.point, feet.get(f.id, f.point), f.direction, f.force_N, f.state, f.gap_m,
              f.cannot_exceed_N, f.limit_N)
        for f in hold.supports
    ]  # fmt: skip


def after_step(scene: Scene, step: CutStep, hold: HoldResult | None, scale: ForceScale) -> list[Shown]:
    """The supports that still act after a step."""
    known: dict[str, SupportForce] = {f.id: f for f in hold.supports} if hold else {}
    shown = []
    for s in scene.supports:
        force = step.forces_after.get(s.id)
        if force is None:
            continue
        found = known.get(s.id)
        state = CARRIES if max(abs(force.high), abs(force.low)) > NOTHING * scale.biggest else IDLE
        if s.kind == "possible" and state == IDLE:
            continue  # it may yet be reached; nothing says it touches
        direction = found.direction if found else _default_direction(s)
        shown.append(Shown(s.id, s.kind, s.point, s.foot, direction, force, state, was=step.forces_before.get(s.id),
                           limit=found.limit_N if found else None))  # fmt: skip
    return shown


def _default_direction(support: SupportShape) -> Point:
    if support.kind not in LINES:
        return 0.0, 0.0, 1.0
    x, y, z = (f - p for f, p in zip(support.foot, support.point, strict=True))
    return x, y, z


def draw_supports(sheet: Sheet, view: View, placer: Placer, shown: Sequence[Shown], scale: ForceScale, units: Units,
                  full: bool = True) -> list[Callout]:  # fmt: skip
    """Arrows and marks; gives back the labels still to be placed, supports that act first."""
    labels = []
    for support, spot in _apart(view, shown):
        away = unit(view.along(support.direction))
        if support.kind == "possible" and support.state == CLEAR:
            _draw_mark(sheet, placer, spot, away, CLEAR)
            continue
        if support.state == CARRIES and support.force is not None:
            anchor = _draw_arrow(sheet, placer, spot, away, support, scale)
        else:
            anchor = _draw_mark(sheet, placer, spot, away, support.state or IDLE)
        outward = away if _pulls(support) else (-away[0], -away[1])
        placer.discourage([anchor, moved(anchor, outward, 60)], 5, 4.0)
        lines = words_for(support, units, sheet.ink.stop, full)
        short = (lines[0], lines[1]) if len(lines) > 2 else ()
        labels.append(Callout(tuple(lines), (anchor,), outward, short))
    return labels


def words_for(support: Shown, units: Units, stop: str, full: bool) -> list[Words]:
    """What is written at a support: name and state, force with range, bound, limit."""
    lines = [Words(f"{support.id}: {support.state}" if support.state else support.id, bold=support.state == CARRIES)]
    if support.state == CARRIES and support.force is not None:
        down = support.force.likely < 0  # hinge fibre and roots can hold a tree down
        held = u.force_range(support.force.scaled(-1.0) if down else support.force, units)
        lines.append(Words(f"holds back {held}" if down else held, SMALL, mono=True))
    if support.state == CLEAR and support.gap is not None:
        gap = f"gap {u.small(support.gap.likely, units)}"
        lines.append(Words(gap, SMALL, mono=True))
    if not full and _has_changed(support) and support.was is not None:
        lines.append(Words(f"before: {u.force(support.was.likely, units)}", SMALL, mono=True))
    if full and support.state != CLEAR and math.isfinite(support.bound):
        lines.append(Words(f"cannot exceed {u.force(support.bound, units)}", SMALL, italic=True))
    if support.limit is not None and support.force is not None and support.force.high > support.limit:
        lines.append(Words(f"over your limit, {u.force(support.limit, units)}", TEXT, bold=True, colour=stop))
    return lines


def _has_changed(support: Shown) -> bool:
    if support.was is None or support.force is None:
        return False
    return abs(support.was.likely - support.force.likely) > CHANGED * abs(support.was.likely)


def _apart(view: View, shown: Iterable[Shown], least: float = 15.0) -> list[tuple[Shown, Spot]]:
    """Places on the sheet, moved sideways where two supports would show as one."""
    placed: list[tuple[Shown, Spot]] = []
    for support in shown:
        spot = view.at(support.point)
        while any(abs(spot[0] - o[0]) < least and abs(spot[1] - o[1]) < least for _, o in placed):
            spot = (spot[0] + least, spot[1])
        placed.append((support, spot))
    return placed


def _pulls(support: Shown) -> bool:
    return support.kind in LINES or (support.force is not None and support.force.likely < 0)


def _draw_arrow(sheet: Sheet, placer: Placer, spot: Spot, away: Spot, support: Shown, scale: ForceScale) -> Spot:
    """A filled arrow for the likely force, an outline for the high end; gives back where the label points."""
    assert support.force is not None
    force = support.force if support.force.likely >= 0 else support.force.scaled(-1.0)
    direction = away if support.force.likely >= 0 else (-away[0], -away[1])
    likely, high = max(scale.length(force.likely), 8.0), max(scale.length(force.high), 8.0)
    pulls = _pulls(support)
    tip = moved(spot, direction, high) if pulls else spot
    tail = spot if pulls else moved(spot, direction, -high)
    sheet.area(arrow_ring(tip, direction, high), sheet.ink.paper, sheet.ink.paper, 4)
    sheet.area(arrow_ring(tip, direction, high), sheet.ink.paper, sheet.ink.ink, THIN, kind="arrow high")
    shift = moved(tip, direction, likely - high) if pulls else tip
    sheet.area(arrow_ring(shift, direction, likely), sheet.ink.ink, sheet.ink.ink, THIN, kind="arrow")
    _block_arrow(placer, tip, direction, high)
    return tip if pulls else tail


def _block_arrow(placer: Placer, tip: Spot, direction: Spot, length: float) -> None:
    """Keep labels off head and shaft, but let a leader reach the tail."""
    placer.block_run([tip, moved(tip, direction, -length)], SHAFT_HALF * length + 2)
    half = HEAD_HALF * length
    placer.block_run([moved(tip, direction, -0.2 * half), moved(tip, direction, half - HEAD * length)], half + 1)


def arrow_ring(tip: Spot, direction: Spot, length: float) -> list[Spot]:
    """The outline of an arrow: every length has the same proportions."""
    n = (-direction[1], direction[0])
    neck, tail = moved(tip, direction, -HEAD * length), moved(tip, direction, -length)
    h, s = HEAD_HALF * length, SHAFT_HALF * length
    return [tip, moved(neck, n, h), moved(neck, n, s), moved(tail, n, s),
            moved(tail, n, -s), moved(neck, n, -s), moved(neck, n, -h)]  # fmt: skip


def _draw_mark(sheet: Sheet, placer: Placer, spot: Spot, away: Spot, state: str) -> Spot:
    """An open triangle under the wood; for what does not touch, set off by a dashed gap."""
    back = (-away[0], -away[1])
    apex = moved(spot, back, 7.0) if state == CLEAR else spot
    draw_mark(sheet, apex, away, state, spot)
    base = moved(apex, back, MARK + 2)
    placer.block_run([spot, base], 4)
    return base


def draw_mark(sheet: Sheet, apex: Spot, away: Spot, state: str, spot: Spot) -> None:
    """The mark alone, for drawing and legend."""
    back, n = (-away[0], -away[1]), (-away[1], away[0])
    foot = moved(apex, back, MARK)
    ring = [apex, moved(foot, n, MARK * 0.6), moved(foot, n, -MARK * 0.6)]
    dash = "2 1.5" if state == CLEAR else None
    sheet.area(ring, sheet.ink.paper, sheet.ink.ink, MEDIUM, dash, kind="mark")
    if state == CLEAR:
        sheet.line([moved(spot, n, 5), moved(spot, n, -5)], MEDIUM)
