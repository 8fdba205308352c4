"""Two tested sections of one stem over each other, looking down with north up: what was sound then, what is now."""

from __future__ import annotations

from bolewright.drawings import units as u
from bolewright.drawings.hatch import hatch
from bolewright.drawings.ink import HEAVY, LARGE, MEDIUM, SMALL, THIN, inks
from bolewright.drawings.shapes import moved
from bolewright.drawings.standing_section import CENTRE, MOST_READINGS, POINTS, RADIUS, draw_scale, towards
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box, wrapped
from bolewright.drawings.units import Units
from bolewright.planning.standing.results import StandSection

WIDTH, HEIGHT = 760.0, 440.0
KEY_X = 470.0
SAME_SIDE = 15.0  # degrees


def sections_over(
    earlier: StandSection, later: StandSection, dates: tuple[str, str], units: Units = "us", night: bool = False
) -> str:
    """The later section with the earlier one over it in broken lines, both to one scale, as SVG."""
    title = f"Section at {u.length(later.height_m, units)} above the ground, then and now"
    lost = f"Strength lost {earlier.loss_of_strength:.0%} then, {later.loss_of_strength:.0%} now."
    sheet = Sheet(WIDTH, HEIGHT, inks(night), title, lost)
    scale = RADIUS / (max(earlier.diameter_m, later.diameter_m) / 2.0)
    sheet.area(_ring(later.outline, scale), sheet.ink.wood, sheet.ink.bark, HEAVY, kind="wood now")
    void = _ring(later.void, scale)
    sheet.area(void, sheet.ink.paper, sheet.ink.ink, MEDIUM, kind="void now")
    if void:
        sheet.strokes(hatch([void], 9.0), THIN, sheet.ink.faint)
    sheet.area(_ring(earlier.outline, scale), "none", sheet.ink.quiet, MEDIUM, dash="2 4", kind="wood then")
    sheet.area(_ring(earlier.void, scale), "none", sheet.ink.ink, HEAVY, dash="7 5", kind="void then")
    for degrees, name in POINTS:
        spot = moved(CENTRE, towards(degrees), RADIUS + 74)
        sheet.text(spot[0], spot[1] + 5, name, LARGE, "middle", bold=degrees == 0.0, kind="compass")
    _draw_readings(sheet, earlier, later, units)
    for n, line in enumerate(wrapped(title, LARGE, WIDTH - KEY_X - 16, bold=True)[:2]):
        sheet.text(KEY_X, 38.0 + n * LARGE * 1.3, line, LARGE, bold=True)
    _draw_key(sheet, earlier, later, dates)
    draw_scale(sheet, scale, units)
    sheet.rect(Box(2, 2, WIDTH - 2, HEIGHT - 2), "none", sheet.ink.ink, MEDIUM)
    return sheet.written()


def _ring(points: tuple[tuple[float, float], ...], scale: float) -> list[Spot]:
    return [(CENTRE[0] + east * scale, CENTRE[1] - north * scale) for east, north in points]


def _draw_readings(sheet: Sheet, earlier: StandSection, later: StandSection, units: Units) -> None:
    """Depths of sound wood outside the bark: then over now where both were drilled on that side."""
    if len(later.shell) > MOST_READINGS:
        return
    for degrees, depth in later.shell:
        then = next((d for side, d in earlier.shell if _near(side, degrees)), None)
        spot = moved(CENTRE, towards(degrees), RADIUS + 36)
        if then is not None:
            sheet.text(spot[0], spot[1] - 3, u.size(then, units), SMALL, "middle", mono=True, italic=True, halo=True)
        sheet.text(spot[0], spot[1] + 12, u.size(depth, units), SMALL, "middle", mono=True, bold=True, halo=True)


def _near(one: float, other: float) -> bool:
    return abs((one - other + 180.0) % 360.0 - 180.0) <= SAME_SIDE


def _draw_key(sheet: Sheet, earlier: StandSection, later: StandSection, dates: tuple[str, str]) -> None:
    """Which line is which, and what either section has lost."""
    y = 110.0
    for day, section, dash, weight in ((dates[0], earlier, "7 5", HEAVY), (dates[1], later, None, MEDIUM)):
        word = "then" if section is earlier else "now"
        sheet.line([(KEY_X, y - 4), (KEY_X + 34, y - 4)], weight, dash=dash)
        sheet.text(KEY_X + 44, y, f"{word}: {day or 'no day named'}", SMALL, bold=True)
        sheet.text(KEY_X + 44, y + 18, f"strength lost {section.loss_of_strength:.0%}", SMALL)
        sheet.text(KEY_X + 44, y + 36, f"area lost {section.loss_of_area:.0%}", SMALL)
        y += 70
    sheet.text(KEY_X, y, "Beside the bark: sound wood then (upper)", SMALL, italic=True)
    sheet.text(KEY_X, y + 16, "and now (lower). Hatched: not sound now.", SMALL, italic=True)
