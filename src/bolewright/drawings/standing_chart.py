"""Share of samples that fail against the gust, with its band and the gust the tree is held against."""

from __future__ import annotations

import math

from bolewright.drawings import units as u
from bolewright.drawings.ink import HEAVY, LARGE, MEDIUM, SMALL, THIN, inks
from bolewright.drawings.standing_words import gusts
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box
from bolewright.drawings.units import MILE_PER_HOUR, Units
from bolewright.planning.standing.results import StandResult

WIDTH, HEIGHT = 800.0, 440.0
FIELD = Box(76, 70, WIDTH - 26, HEIGHT - 84)
BAR = 5.0  # weight of the bar on the axis
LEGEND = "A share of samples, not a chance per year: how often such a gust comes is not in it."


def fragility_chart(result: StandResult, units: Units = "us", night: bool = False) -> str:
    """The fragility curve as SVG."""
    title = "How many samples fail in what gust"
    sheet = Sheet(WIDTH, HEIGHT, inks(night), title, f"{result.words} {LEGEND}")
    curve = result.fragility
    most = curve.gust_m_s[-1]
    sheet.text(16, 30, title, LARGE, bold=True)
    sheet.text(16, 50, "Gusts as a station in open country shows them at 10 m (33 ft)", SMALL, italic=True)
    _draw_axes(sheet, most, units)
    highs = [_spot(v, s, most) for v, s in zip(curve.gust_m_s, curve.high, strict=True)]
    lows = [_spot(v, s, most) for v, s in zip(curve.gust_m_s, curve.low, strict=True)]
    sheet.area([*highs, *reversed(lows)], sheet.ink.wood_far, None, kind="band")
    sheet.line(highs, THIN, sheet.ink.bark)
    sheet.line(lows, THIN, sheet.ink.bark)
    sheet.line([_spot(v, s, most) for v, s in zip(curve.gust_m_s, curve.share, strict=True)], HEAVY, kind="curve")
    _draw_held_against(sheet, result, most, units)
    _draw_fails(sheet, result, most, units)
    _draw_key(sheet)
    sheet.rect(Box(2, 2, WIDTH - 2, HEIGHT - 2), "none", sheet.ink.ink, MEDIUM)
    return sheet.written()


def _spot(gust: float, share: float, most: float) -> Spot:
    x = FIELD.x0 + min(gust / most, 1.0) * (FIELD.x1 - FIELD.x0)
    return x, FIELD.y1 - share * (FIELD.y1 - FIELD.y0)


def _draw_axes(sheet: Sheet, most: float, units: Units) -> None:
    for tenths in range(0, 11, 2):
        _, y = _spot(0.0, tenths / 10, most)
        first = tenths == 0
        sheet.line([(FIELD.x0, y), (FIELD.x1, y)], HEAVY if first else THIN, None if first else sheet.ink.faint)
        sheet.text(FIELD.x0 - 8, y + 4, f"{tenths * 10} %", SMALL, "end", mono=True)
    unit, step = (MILE_PER_HOUR, 20) if units == "us" else (1.0, 10)
    for k in range(math.floor(most / unit / step) + 1):
        x, y = _spot(k * step * unit, 0.0, most)
        sheet.line([(x, y), (x, y + 5)], MEDIUM)
        sheet.text(x, y + 20, str(k * step), SMALL, "middle", mono=True)
    unit_words = "mph" if units == "us" else "m/s"
    sheet.text(FIELD.x1, FIELD.y1 + 38, f"gust, {unit_words}", SMALL, "end", italic=True)


def _draw_held_against(sheet: Sheet, result: StandResult, most: float, units: Units) -> None:
    """The gust the tree is held against, named at the top of its line, on the side where there is room."""
    x, _ = _spot(result.design_gust_m_s, 0.0, most)
    sheet.line([(x, FIELD.y0), (x, FIELD.y1)], MEDIUM, dash="9 4", kind="held against")
    words = f"held against {u.speed(result.design_gust_m_s, units)}: {result.share_standing:.0%} stand"
    right = x < (FIELD.x0 + FIELD.x1) / 2
    sheet.text(x + (8 if right else -8), FIELD.y0 - 4, words, SMALL, "start" if right else "end", bold=True)


def _draw_fails(sheet: Sheet, result: StandResult, most: float, units: Units) -> None:
    """The range of the failing gust as a bar on the axis, its likely value as a stroke, in words beside the key."""
    gust = result.gust_m_s
    low, likely, high = (_spot(v, 0.0, most)[0] for v in (gust.low, gust.likely, gust.high))
    sheet.line([(low, FIELD.y1 - 4), (low, FIELD.y1)], MEDIUM, kind="fails low")
    sheet.line([(low, FIELD.y1), (high, FIELD.y1)], BAR, kind="fails")
    sheet.line([(likely, FIELD.y1 - 9), (likely, FIELD.y1)], HEAVY, kind="fails likely")
    words = f"thick on the axis: fails in gusts of {gusts(gust, units)}"
    sheet.text(FIELD.x1, HEIGHT - 30, words, SMALL, "end")


def _draw_key(sheet: Sheet) -> None:
    y = HEIGHT - 30
    sheet.line([(FIELD.x0, y - 4), (FIELD.x0 + 24, y - 4)], HEAVY)
    sheet.text(FIELD.x0 + 32, y, "all samples", SMALL)
    sheet.rect(Box(FIELD.x0 + 132, y - 10, FIELD.x0 + 156, y + 1), sheet.ink.wood_far, sheet.ink.bark, THIN)
    sheet.text(FIELD.x0 + 164, y, "for other drag, wood and roots", SMALL)
    sheet.text(16, HEIGHT - 12, LEGEND, SMALL, italic=True)
