"""The gust that was needed, as measured and as if sound, against the gust that was recorded."""

from __future__ import annotations

import math

from bolewright.core.base.range import Range
from bolewright.drawings import units as u
from bolewright.drawings.hatch import hatch
from bolewright.drawings.ink import HEAVY, LARGE, MEDIUM, SMALL, THIN, inks
from bolewright.drawings.standing_words import HIGHEST, gusts
from bolewright.drawings.svg import Sheet
from bolewright.drawings.type_widths import Box
from bolewright.drawings.units import MILE_PER_HOUR, Units
from bolewright.planning.standing.looked import LookBack

WIDTH, HEIGHT = 800.0, 236.0
X0, X1 = 176.0, WIDTH - 30.0
ROWS = (("needed, as measured", 92.0), ("needed, if sound", 140.0))
AXIS = 178.0
HALF = 11.0  # half the height of a bar
MARGIN = 1.1  # of the highest gust shown
NOTE = "Gusts as a station in open country shows them at 10 m (33 ft). Bar: low to high; stroke: likely."


def needed_against_recorded(back: LookBack, units: Units = "us", night: bool = False) -> str:
    """Two bars and the recorded gust on one scale, as SVG."""
    title = "Gust needed against gust recorded"
    needed = f"Needed as measured {gusts(back.needed_m_s, units)}, if sound {gusts(back.needed_sound_m_s, units)}."
    told = "none" if back.recorded_m_s is None else u.speed(back.recorded_m_s, units)
    sheet = Sheet(WIDTH, HEIGHT, inks(night), title, f"{needed} Recorded: {told}.")
    sheet.text(16, 30, title, LARGE, bold=True)
    most = min(MARGIN * max(back.needed_sound_m_s.high, back.needed_m_s.high, back.recorded_m_s or 0.0), HIGHEST)
    _draw_axis(sheet, most, units)
    for (name, y), value, hatched in zip(ROWS, (back.needed_m_s, back.needed_sound_m_s), (False, True), strict=True):
        sheet.text(16, y + 4, name, SMALL, bold=True)
        _draw_bar(sheet, value, y, most, hatched)
    if back.recorded_m_s is not None:
        _draw_recorded(sheet, back.recorded_m_s, most, units)
    sheet.text(16, HEIGHT - 12, NOTE, SMALL, italic=True)
    sheet.rect(Box(2, 2, WIDTH - 2, HEIGHT - 2), "none", sheet.ink.ink, MEDIUM)
    return sheet.written()


def _x(gust: float, most: float) -> float:
    return X0 + min(gust / most, 1.0) * (X1 - X0)


def _draw_axis(sheet: Sheet, most: float, units: Units) -> None:
    sheet.line([(X0, AXIS), (X1, AXIS)], HEAVY)
    unit, step = (MILE_PER_HOUR, 20) if units == "us" else (1.0, 10)
    for k in range(math.floor(most / unit / step) + 1):
        x = _x(k * step * unit, most)
        sheet.line([(x, AXIS), (x, AXIS + 5)], MEDIUM)
        sheet.text(x, AXIS + 20, str(k * step), SMALL, "middle", mono=True)
    sheet.text(X0 - 10, AXIS + 20, "mph" if units == "us" else "m/s", SMALL, "end", italic=True)


def _draw_bar(sheet: Sheet, value: Range, y: float, most: float, hatched: bool) -> None:
    low, likely, high = (_x(v, most) for v in (value.low, value.likely, value.high))
    ring = [(low, y - HALF), (high, y - HALF), (high, y + HALF), (low, y + HALF)]
    sheet.area(ring, sheet.ink.wood_far if hatched else sheet.ink.wood, sheet.ink.bark, MEDIUM, kind="needed")
    if hatched:
        sheet.strokes(hatch([ring], 8.0), THIN, sheet.ink.faint)
    sheet.line([(likely, y - HALF - 4), (likely, y + HALF + 4)], HEAVY, kind="likely")


def _draw_recorded(sheet: Sheet, gust: float, most: float, units: Units) -> None:
    x = _x(gust, most)
    sheet.line([(x, 66), (x, AXIS)], MEDIUM, dash="9 4", kind="recorded")
    right = x < (X0 + X1) / 2
    words = f"recorded {u.speed(gust, units)}"
    sheet.text(x + (6 if right else -6), 68, words, SMALL, "start" if right else "end", bold=True)
