"""A tested section of a standing stem, looking down with north up: sound wood, what is gone, where it was drilled."""

from __future__ import annotations

import math
from collections.abc import Sequence

from bolewright.drawings import units as u
from bolewright.drawings.hatch import hatch
from bolewright.drawings.ink import HEAVY, LARGE, MEDIUM, SMALL, THIN, inks
from bolewright.drawings.shapes import moved
from bolewright.drawings.standing_words import formula_words, gusts, rule_words
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box, wrapped
from bolewright.drawings.units import Units
from bolewright.planning.both import in_one
from bolewright.planning.standing.results import StandSection

WIDTH, HEIGHT = 760.0, 440.0
CENTRE: Spot = (214.0, 224.0)
RADIUS = 118.0
WORDS_X = 436.0
MOST_READINGS = 12
BAR_X, LONGEST_BAR = 290.0, 84.0  # of the scale bar
POINTS = ((0.0, "N"), (90.0, "E"), (180.0, "S"), (270.0, "W"))


def section_from_above(
    section: StandSection, worst_towards_deg: float | None = None, units: Units = "us", night: bool = False
) -> str:
    """The section as SVG, with the wind that is worst for the tree as an arrow."""
    title = f"Section at {u.length(section.height_m, units)} above the ground"
    sheet = Sheet(WIDTH, HEIGHT, inks(night), title, ". ".join(f"{a}: {b}" for a, b in _rows(section, units)))
    scale = RADIUS / (section.diameter_m / 2.0)
    outer, void = _ring(section.outline, scale), _ring(section.void, scale)
    sheet.area(outer, sheet.ink.wood, sheet.ink.bark, HEAVY, kind="wood")
    if void:
        sheet.area(void, sheet.ink.paper, sheet.ink.ink, MEDIUM, dash="6 4", kind="void")
        sheet.strokes(hatch([void], 9.0), THIN, sheet.ink.faint, kind="void hatch")
    if section.weakest_deg is not None:
        way = towards(section.weakest_deg)
        sheet.line(
            [moved(CENTRE, way, -RADIUS - 12), moved(CENTRE, way, RADIUS + 12)], THIN, dash="2 4", kind="weakest"
        )
    _draw_points(sheet)
    _draw_readings(sheet, section, scale, units)
    if worst_towards_deg is not None:
        _draw_wind(sheet, worst_towards_deg)
    draw_scale(sheet, scale, units)
    _draw_words(sheet, section, title, units)
    sheet.rect(Box(2, 2, WIDTH - 2, HEIGHT - 2), "none", sheet.ink.ink, MEDIUM)
    return sheet.written()


def towards(degrees: float) -> Spot:
    """Sheet direction of a compass direction: north up, east right."""
    turn = math.radians(degrees)
    return math.sin(turn), -math.cos(turn)


def _ring(points: Sequence[tuple[float, float]], scale: float) -> list[Spot]:
    return [(CENTRE[0] + east * scale, CENTRE[1] - north * scale) for east, north in points]


def _draw_points(sheet: Sheet) -> None:
    """The four points of the compass, well outside the bark."""
    for degrees, name in POINTS:
        spot = moved(CENTRE, towards(degrees), RADIUS + 74)
        sheet.text(spot[0], spot[1] + 5, name, LARGE, "middle", bold=degrees == 0.0, kind="compass")


def _draw_readings(sheet: Sheet, section: StandSection, scale: float, units: Units) -> None:
    """Every hole as a stroke from the bark to where sound wood ended, with its depth."""
    if len(section.shell) > MOST_READINGS:
        return
    for degrees, depth in section.shell:
        way = towards(degrees)
        end = moved(CENTRE, way, RADIUS - depth * scale)
        sheet.line([moved(CENTRE, way, RADIUS + 8), end], HEAVY, kind="hole")
        sheet.circle(end, 3.2, sheet.ink.paper, sheet.ink.ink, MEDIUM)
        spot = moved(CENTRE, way, RADIUS + 34)
        sheet.text(spot[0], spot[1] + 5, u.size(depth, units), SMALL, "middle", mono=True, kind="depth", halo=True)


def _draw_wind(sheet: Sheet, degrees: float) -> None:
    """The worst wind as an arrow in the corner, pointing where it blows."""
    way, middle = towards(degrees), (62.0, HEIGHT - 62.0)
    across = (-way[1], way[0])
    neck = moved(middle, way, 12)
    sheet.line([moved(middle, way, -26), neck], HEAVY, kind="wind")
    sheet.area([moved(middle, way, 26), moved(neck, across, 7), moved(neck, across, -7)], sheet.ink.ink, None)
    sheet.text(16, HEIGHT - 16, f"worst wind, towards {degrees:.0f} deg", SMALL, italic=True)


def draw_scale(sheet: Sheet, scale: float, units: Units) -> None:
    """A scale bar at the foot of the sheet, as long as a round number of inches or centimetres."""
    choices = [n * u.INCH_M for n in (1, 2, 5, 10, 20)] if units == "us" else [n / 100 for n in (2, 5, 10, 20, 50)]
    length = max((c for c in choices if c * scale <= LONGEST_BAR), default=choices[0])
    x, y = BAR_X, HEIGHT - 20.0
    sheet.line([(x, y - 5), (x, y), (x + length * scale, y), (x + length * scale, y - 5)], MEDIUM, kind="scale")
    sheet.text(x + length * scale + 8, y + 4, u.size(length, units), SMALL, mono=True)


def _draw_words(sheet: Sheet, section: StandSection, title: str, units: Units) -> None:
    y, width = 38.0, WIDTH - WORDS_X - 16
    for line in wrapped(title, LARGE, width, bold=True)[:2]:
        sheet.text(WORDS_X, y, line, LARGE, bold=True)
        y += LARGE * 1.3
    sheet.text(WORDS_X, y, "looking down, north up; hatched: not sound", SMALL, italic=True)
    y += 26
    for head, words in _rows(section, units):
        sheet.text(WORDS_X, y, head, SMALL, bold=True)
        for line in wrapped(words, SMALL, width - 92)[:7]:
            sheet.text(WORDS_X + 92, y, line, SMALL)
            y += SMALL * 1.3
        y += 5
        if y > HEIGHT - 22:
            return


def _rows(section: StandSection, units: Units) -> list[tuple[str, str]]:
    margin = section.margin
    rows = [
        ("wood", f"{u.size(section.diameter_m, units)} across without bark"),
        ("strength", f"{section.loss_of_strength:.0%} lost in the weakest direction (dotted line)"),
        ("area", f"{section.loss_of_area:.0%} lost"),
        ("breaks", f"in gusts of {gusts(section.gust_m_s, units)}"),
        ("margin", f"{margin.likely:.1f} ({margin.low:.1f} to {margin.high:.1f}) in the gust it is held against"),
    ]
    rows += [("formulas", "; ".join(formula_words(f) for f in section.formulas))] if section.formulas else []
    past = [rule for rule in section.rules if rule.applies and not rule.within]
    rows += [("past", "; ".join(rule_words(r) for r in past))] if past else []
    rows += [("note", in_one(section.note, units))] if section.note else []
    return rows
