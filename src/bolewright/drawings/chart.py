"""Load on the building from step to step, with its range and the load as found."""

from __future__ import annotations

import math

from bolewright.core.base.range import Range
from bolewright.drawings import units as u
from bolewright.drawings.callouts import Callout, Words, put_callouts
from bolewright.drawings.ink import HEAVY, LARGE, MEDIUM, SMALL, THIN, inks
from bolewright.drawings.labels import Placer
from bolewright.drawings.panels import RANGES_NOTE, step_words
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box
from bolewright.drawings.units import Units
from bolewright.planning.results import Plan

WIDTH, HEIGHT = 800.0, 430.0
FIELD = Box(84, 66, WIDTH - 24, HEIGHT - 74)


def load_chart(plan: Plan, units: Units = "us", night: bool = False) -> str:
    """Load on the building against step number as SVG: likely line, range band, worst during a step, start line."""
    sheet = Sheet(WIDTH, HEIGHT, inks(night), f"Load on the building, {plan.title}", _description(plan, units))
    loads = [plan.start_building_N, *(step.building_after_N for step in plan.steps)]
    top = max(r.high for r in [*loads, plan.peak_building_N, *(s.building_peak_N for s in plan.steps)]) or 1.0
    unit = u.POUND_FORCE_N if units == "us" else 1000.0
    step = _round_step(top / unit / 5)
    most = math.ceil(top / unit / step) * step * unit
    placer = Placer(Box(FIELD.x0, 40, FIELD.x1 + 16, FIELD.y1))
    _draw_axes(sheet, plan, most, step * unit, units)
    spots = [_spot(k, r.likely, len(loads), most) for k, r in enumerate(loads)]
    _draw_band(sheet, loads, most)
    start_y = spots[0][1]
    sheet.line([(FIELD.x0, start_y), (FIELD.x1, start_y)], MEDIUM, dash="9 4", kind="start")
    _draw_peaks(sheet, placer, plan, most)
    sheet.line(spots, HEAVY, kind="load")
    for spot in spots:
        sheet.circle(spot, 3.6, sheet.ink.paper, sheet.ink.ink, MEDIUM)
    placer.block_run(spots, 5)
    placer.block_run([(FIELD.x0, start_y), (FIELD.x1, start_y)], 2)
    _name(sheet, placer, plan, spots, units, most)
    sheet.rect(Box(2, 2, WIDTH - 2, HEIGHT - 2), "none", sheet.ink.ink, MEDIUM)
    return sheet.written()


def _spot(k: int, newtons: float, count: int, most: float) -> Spot:
    x = FIELD.x0 + (k + 0.5) * (FIELD.x1 - FIELD.x0) / count
    return x, FIELD.y1 - max(newtons, 0.0) / most * (FIELD.y1 - FIELD.y0)


def _round_step(value: float) -> float:
    """The next of 1, 2, 5 times a power of ten."""
    power = 10.0 ** math.floor(math.log10(value)) if value > 0 else 1.0
    return next((m * power for m in (1, 2, 5, 10) if m * power >= value - 1e-12), 10 * power)


def _draw_axes(sheet: Sheet, plan: Plan, most: float, step: float, units: Units) -> None:
    """Level lines with their loads, step numbers below."""
    sheet.text(16, 30, f"Load on the building, {plan.title}", LARGE, bold=True)
    sheet.text(WIDTH - 16, 30, RANGES_NOTE, SMALL, "end", italic=True)
    for k in range(round(most / step) + 1):
        _, y = _spot(0, k * step, 1, most)
        sheet.line([(FIELD.x0, y), (FIELD.x1, y)], HEAVY if k == 0 else THIN, None if k == 0 else sheet.ink.faint)
        sheet.text(FIELD.x0 - 8, y + 4, u.force(k * step, units), SMALL, "end", mono=True)
    count = len(plan.steps) + 1
    every = math.ceil(count / 26)
    for k in range(0, count, every):
        x, y = _spot(k, 0, count, most)
        sheet.line([(x, y), (x, y + 5)], MEDIUM)
        word = "as found" if k == 0 else str(plan.steps[k - 1].n)
        sheet.text(max(x, FIELD.x0 + 2) if k else x - 8, y + (20 if k else 34), word, SMALL, "middle", mono=bool(k))
    _draw_key(sheet)


def _draw_key(sheet: Sheet) -> None:
    """What the signs mean, under the field."""
    y, ink = HEIGHT - 18, sheet.ink
    sheet.circle((FIELD.x0 + 6, y - 4), 3.6, ink.paper, ink.ink, MEDIUM)
    sheet.text(FIELD.x0 + 18, y, "after the step, likely", SMALL)
    sheet.rect(Box(FIELD.x0 + 172, y - 9, FIELD.x0 + 194, y + 1), ink.wood_far, ink.bark, THIN)
    sheet.text(FIELD.x0 + 202, y, "low to high", SMALL)
    sheet.line([(FIELD.x0 + 302, y - 4), (FIELD.x0 + 316, y - 4)], HEAVY)
    sheet.line([(FIELD.x0 + 309, y - 11), (FIELD.x0 + 309, y + 3)], THIN)
    sheet.text(FIELD.x0 + 326, y, "worst during the step", SMALL)
    sheet.line([(FIELD.x0 + 486, y - 4), (FIELD.x0 + 514, y - 4)], MEDIUM, dash="9 4")
    sheet.text(FIELD.x0 + 522, y, "as found", SMALL)


def _draw_band(sheet: Sheet, loads: list[Range], most: float) -> None:
    count = len(loads)
    lows = [_spot(k, r.low, count, most) for k, r in enumerate(loads)]
    highs = [_spot(k, r.high, count, most) for k, r in enumerate(loads)]
    sheet.area([*highs, *reversed(lows)], sheet.ink.wood_far, None, kind="range")
    sheet.line(highs, THIN, sheet.ink.bark)
    sheet.line(lows, THIN, sheet.ink.bark)


def _draw_peaks(sheet: Sheet, placer: Placer, plan: Plan, most: float) -> None:
    """The worst during a step, where it is above both sides of it: a short bar with a whisker."""
    count = len(plan.steps) + 1
    for k, step in enumerate(plan.steps, 1):
        peak = step.building_peak_N
        if peak.likely <= max(step.building_before_N.likely, step.building_after_N.likely) * 1.005:
            continue
        (xa, y), (xb, _) = _spot(k - 1, peak.likely, count, most), _spot(k, peak.likely, count, most)
        x = (xa + xb) / 2
        sheet.line([(x - 6, y), (x + 6, y)], HEAVY, kind="peak")
        whisker = [_spot(k, newtons, count, most)[1] for newtons in (peak.low, peak.high)]
        sheet.line([(x, level) for level in whisker], THIN)
        placer.discourage([(x, level) for level in whisker], 3, 1.5)
        placer.block_run([(x - 6, y), (x + 6, y)], 3)


def _name(sheet: Sheet, placer: Placer, plan: Plan, spots: list[Spot], units: Units, most: float) -> None:
    """Words at the start line, the worst step and the end."""
    end = plan.steps[-1] if plan.steps else None
    labels = []
    worst = max(plan.steps, key=lambda s: s.building_peak_N.likely, default=None)
    if worst is not None:
        count, k = len(plan.steps) + 1, plan.steps.index(worst) + 1
        xa, xb = spots[k - 1][0], spots[k][0]
        at = ((xa + xb) / 2, _spot(k, worst.building_peak_N.likely, count, most)[1])
        lines = (Words(f"worst in step {worst.n}: {step_words(worst)}", SMALL, bold=True),
                 Words(u.force_range(worst.building_peak_N, units), SMALL, mono=True))  # fmt: skip
        labels.append(Callout(lines, (at,)))
    start = (Words("as found", SMALL, bold=True), Words(u.force_range(plan.start_building_N, units), SMALL, mono=True))
    labels.append(Callout(start, ((FIELD.x1 - 70, spots[0][1]),)))
    if end is not None:
        last = (
            Words("at the end", SMALL, bold=True),
            Words(u.force_range(end.building_after_N, units), SMALL, mono=True),
        )
        labels.append(Callout(last, (spots[-1],)))
    put_callouts(sheet, placer, labels)


def _description(plan: Plan, units: Units) -> str:
    loads = ", ".join(f"{s.n}: {u.force(s.building_after_N.likely, units)}" for s in plan.steps)
    return f"As found {u.force_range(plan.start_building_N, units)}. After each step: {loads}."
