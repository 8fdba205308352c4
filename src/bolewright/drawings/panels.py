"""What surrounds a drawing: border, title block with scale bar, legend, the list of steps, north and dimensions."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from bolewright.drawings import units as u
from bolewright.drawings.callouts import draw_balloon
from bolewright.drawings.cutmarks import SHAPES
from bolewright.drawings.frame import scale_steps
from bolewright.drawings.ink import HEAVY, LARGE, MEDIUM, SMALL, TEXT, THIN, TITLE
from bolewright.drawings.labels import Placer
from bolewright.drawings.shapes import moved
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box, shortened, text_box, text_width, wrapped
from bolewright.drawings.units import Units
from bolewright.planning.results import CutStep, Plan

MARGIN, ROW = 12.0, 18.0
RANGES_NOTE = "Weights and forces are ranges: likely (low to high)."
STOP_NOTE = "Stop if what you see differs from this."

SHORT = MappingProxyType({"free drop": "drop", "lower on a line": "lower", "crane pick": "crane"})

Sample = Callable[[Sheet, Spot], None]


@dataclass(frozen=True)
class Key:
    """One line of the legend: a small sample and its words."""

    sample: Sample
    words: str


def draw_border(sheet: Sheet, band: Box) -> None:
    """The border of the sheet and the line above the band of panels."""
    sheet.rect(band, sheet.ink.panel)
    sheet.rect(Box(MARGIN, MARGIN, sheet.width - MARGIN, sheet.height - MARGIN), "none", sheet.ink.ink, HEAVY)
    sheet.line([(band.x0, band.y0), (band.x1, band.y0)], MEDIUM)


def draw_divider(sheet: Sheet, band: Box, x: float) -> None:
    """An upright line between two panels."""
    sheet.line([(x, band.y0), (x, band.y1)], MEDIUM)


def draw_title(sheet: Sheet, box: Box, title: str, view: str, notes: Sequence[str], scale: float,
               units: Units) -> None:  # fmt: skip
    """The title block: job, what is shown, scale bar, notes, and the one line in the stop colour."""
    x, width = box.x0 + 12, box.x1 - box.x0 - 24
    y = box.y0 + TITLE * 1.15
    lines = wrapped(title, TITLE, width, bold=True)
    for line in [*lines[:1], *([shortened(" ".join(lines[1:]), TITLE, width, True)] if lines[1:] else [])]:
        sheet.text(x, y, line, TITLE, bold=True)
        y += TITLE * 1.18
    for line in wrapped(view, LARGE, width)[:2]:
        sheet.text(x, y, line, LARGE, italic=True)
        y += LARGE * 1.3
    if scale > 0:
        y = draw_scale_bar(sheet, (x, y + 2), scale, units, width * 0.9)
    room = int((box.y1 - y - SMALL * 1.3 - 8) / (SMALL * 1.25))
    lines = [line for note in notes for line in wrapped(note, SMALL, width)]
    for line in lines[: max(room, 0)]:
        sheet.text(x, y + SMALL * 0.6, line, SMALL, colour=sheet.ink.quiet)
        y += SMALL * 1.25
    sheet.text(x, box.y1 - 9, STOP_NOTE, TEXT, bold=True, colour=sheet.ink.stop, kind="stop")


def draw_scale_bar(sheet: Sheet, start: Spot, scale: float, units: Units, room: float) -> float:
    """A bar of four parts, every other one filled; gives back the level below it."""
    x, y = start
    steps = scale_steps(scale, units, min(room, 260.0))
    for k, ((a, _), (b, _)) in enumerate(zip(steps, steps[1:], strict=False)):
        fill = sheet.ink.ink if k % 2 == 0 else sheet.ink.paper
        sheet.rect(Box(x + a, y, x + b, y + 6), fill, sheet.ink.ink, THIN)
    shown = [steps[0], steps[2], steps[4]] if len(steps) == 5 else steps
    for k, (at, word) in enumerate(shown):
        last = k == len(shown) - 1
        unit = (" ft" if units == "us" else " m") if last else ""
        sheet.text(x + at, y + 19, word + unit, SMALL, "start" if k == 0 or last else "middle")
    return y + 31


def draw_legend(sheet: Sheet, box: Box, keys: Sequence[Key]) -> None:
    """Samples with their words, as many as there is room for."""
    y = box.y0 + 20
    for key in keys[: int((box.y1 - box.y0 - 10) // ROW)]:
        key.sample(sheet, (box.x0 + 24, y - 4))
        sheet.text(box.x0 + 48, y, shortened(key.words, SMALL, box.x1 - box.x0 - 54), SMALL)
        y += ROW


def legend_height(keys: Sequence[Key]) -> float:
    """Room a legend needs."""
    return len(keys) * ROW + 14


def draw_steps(sheet: Sheet, box: Box, steps: Sequence[CutStep], units: Units, columns: int = 2) -> None:
    """The order of work: number, what, how, and the mass with its range."""
    rows = max(1, math.ceil(len(steps) / columns))
    width = (box.x1 - box.x0) / columns
    for k, step in enumerate(steps):
        x, y = box.x0 + (k // rows) * width, box.y0 + 20 + (k % rows) * ROW
        draw_balloon(sheet, step.n, (x + 17, y - 4), SHAPES.get(step.action, "circle"), 7.6)
        heavy = u.mass_range(step.mass_kg, units) if step.mass_kg.high > 0 else ""
        room = width - 40 - text_width(heavy, SMALL - 1.5, mono=True)
        sheet.text(x + 32, y, shortened(step_words(step, SHORT), SMALL, room), SMALL)
        sheet.text(x + width - 6, y, heavy, SMALL - 1.5, "end", mono=True)


def draw_dead_end(sheet: Sheet, box: Box, plan: Plan) -> None:
    """In place of the list of steps: that there is no order, where it ends, and what would open one."""
    x, width = box.x0 + 12, box.x1 - box.x0 - 24
    sheet.text(x, box.y0 + 22, "No order within the limits you set", LARGE, bold=True, colour=sheet.ink.stop)
    y = box.y0 + 46
    rows = [("dead end", plan.dead_end), *(("would open one", words) for words in plan.opens)]
    for head, words in rows:
        for k, line in enumerate(wrapped(words, SMALL, width - 116)):
            if y > box.y1 - 6:
                return
            sheet.text(x, y, head if k == 0 else "", SMALL, bold=True)
            sheet.text(x + 116, y, line, SMALL)
            y += ROW


def step_words(step: CutStep, methods: Mapping[str, str] = MappingProxyType({})) -> str:
    """What a step does, in few words, with shorter words for its method where given."""
    if step.action == "place":
        return f"set {step.piece}"
    if step.action == "remove":
        return f"take away {step.piece}"
    others = [piece for piece in step.takes if piece != step.piece]
    joint = "+" if methods else "with"
    carried = f" {joint} {others[0]}" if len(others) == 1 else f" {joint} {len(others)} more" if others else ""
    return f"{step.piece}{carried}" + (f", {methods.get(step.method, step.method)}" if step.method else "")


def draw_north(sheet: Sheet, placer: Placer, centre: Spot, bearing: float | None) -> None:
    """North on a view from above, from the bearing of the stem."""
    x, y = centre
    if bearing is None:
        sheet.text(x, y, "north not recorded", SMALL, "middle", italic=True)
        placer.block(text_box(x, y, "north not recorded", SMALL, "middle"), 4)
        return
    angle = math.radians(bearing)
    d = (math.cos(angle), -math.sin(angle))
    n = (-d[1], d[0])
    tip, tail = moved(centre, d, 26), moved(centre, d, -20)
    sheet.circle(centre, 20, "none", sheet.ink.faint, THIN)
    sheet.area([tip, moved(tail, n, 8), moved(tail, d, 6)], sheet.ink.ink, sheet.ink.ink, THIN)
    sheet.area([tip, moved(tail, n, -8), moved(tail, d, 6)], sheet.ink.paper, sheet.ink.ink, THIN)
    at = moved(centre, d, 37)
    sheet.text(at[0], at[1] + 5, "N", LARGE, "middle", bold=True)
    placer.block(Box(x - 48, y - 48, x + 48, y + 48))


def draw_dimension(sheet: Sheet, placer: Placer, a: Spot, b: Spot, words: str, level: float) -> None:
    """A level dimension line between two places, with thin lines down to it."""
    ink = sheet.ink
    for x, y in (a, b):
        sheet.line([(x, max(y + 8, level - 26)), (x, level + 5)], THIN, ink.quiet)
        sheet.line([(x - 4, level + 4), (x + 4, level - 4)], MEDIUM)
    middle = (a[0] + b[0]) / 2
    half = text_width(words, TEXT) / 2 + 6
    sheet.line([(a[0], level), (middle - half, level)], THIN)
    sheet.line([(middle + half, level), (b[0], level)], THIN)
    sheet.text(middle, level + 4, words, TEXT, "middle")
    placer.block(Box(a[0] - 6, level - 12, b[0] + 6, level + 8))


def bearing_note(bearing: float | None) -> str:
    """Which way the drawing looks, in words."""
    if bearing is None:
        return "Bearing of the stem not recorded."
    points = ("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW")
    return f"Butt to tip bears {bearing:.0f}\u00b0 ({points[round(bearing / 22.5) % 16]})."
