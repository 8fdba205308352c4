"""Marks of the way out, alike on plan and strip: surfaces, sheets, steps, gates, ground to keep off."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

from bolewright.drawings.hatch import hatch
from bolewright.drawings.ink import HEAVY, MEDIUM, SMALL, THIN
from bolewright.drawings.panels import Key
from bolewright.drawings.shapes import distance, moved, pointed
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box, text_width
from bolewright.planning.haul.results import BoardsOut

# strokes that stand for a surface: (spacing, angle) of each family; pavement is left plain
SURFACES: dict[str, tuple[tuple[float, float], ...]] = {
    "lawn": ((7.0, 78.0),),
    "soil": ((7.0, 20.0), (7.0, -20.0)),
    "gravel": ((5.0, 0.0),),
    "pavement": (),
}
DASH = {"lawn": "1.5 4", "soil": "3 3", "gravel": "0.8 3.2"}
POST = 3.4


def draw_surface(sheet: Sheet, ring: Sequence[Spot], surface: str) -> None:
    """A piece of the way with the strokes of its surface."""
    sheet.area(ring, sheet.ink.panel, None, opacity=0.85, kind="way")
    dash = DASH.get(surface)
    for spacing, angle in SURFACES.get(surface, ()):
        for a, b in hatch([ring], spacing, angle):
            sheet.line([a, b], THIN, sheet.ink.quiet, dash, kind=surface)
    sheet.area(ring, "none", sheet.ink.ink, THIN, kind="way")


def draw_sheet(sheet: Sheet, ring: Sequence[Spot]) -> None:
    """A sheet of board."""
    sheet.area(ring, sheet.ink.wood_far, sheet.ink.bark, MEDIUM, kind="board", opacity=0.82)


def draw_sheet_number(sheet: Sheet, ring: Sequence[Spot], number: str) -> None:
    """The number on a sheet, left off where it could not be read."""
    sides = [distance(a, b) for a, b in pairwise(ring)]
    wide = text_width(number, SMALL, True) or 1.0
    size = min(SMALL, min(sides) * 0.62, SMALL * 0.96 * max(sides) / wide)
    if number and size >= 6.5:
        x, y = sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)
        sheet.text(x, y + size * 0.35, number, size, "middle", bold=True, kind="board number", halo=True)


def sheet_numbers(boards: BoardsOut | None, ahead: bool = False) -> dict[int, str]:
    """What is written on each place: its number, in brackets after it the sheet carried ahead to it where that is asked
    for; where sheets lie nearly on each other all their numbers on the uppermost."""
    found: dict[int, str] = {}
    places = boards.places if boards is not None else ()
    stacks = boards.down // max(boards.layers, 1) if boards is not None else 0
    for place in places:
        words = f"{place.n} ({place.sheet})" if ahead and place.n > stacks else str(place.n)
        for under in places:
            same = (under.right_m, under.left_m) == (place.right_m, place.left_m) and under.n < place.n
            if same and under.to_m - place.from_m > 0.6 * (place.to_m - place.from_m):
                words = f"{found[under.n]}, {words}"
                found[under.n] = ""
        found[place.n] = words
    return found


def draw_keep_off(sheet: Sheet, ring: Sequence[Spot], buried: bool, crossed: bool) -> None:
    """Ground to keep off: hatched in the stop colour, its edge broken where it lies under the lawn."""
    ink = sheet.ink
    sheet.area(ring, ink.paper, None, opacity=0.7)
    sheet.strokes(hatch([ring], 8.0, 45), THIN, ink.stop, kind="keep off")
    sheet.area(ring, "none", ink.stop, HEAVY if crossed else MEDIUM, "7 4" if buried else None, kind="keep off")


def draw_gate(sheet: Sheet, spot: Spot, along: Spot, half: float, fence: float = 20.0) -> None:
    """Two posts and the opening between them, square to the way."""
    across = (-along[1], along[0])
    for side in (1.0, -1.0):
        x, y = moved(spot, across, side * (half + POST))
        sheet.rect(Box(x - POST, y - POST, x + POST, y + POST), sheet.ink.ink, None, kind="gate")
        sheet.line([moved(spot, across, side * (half + 2 * POST)), moved(spot, across, side * (half + fence))], MEDIUM)


def draw_steps(sheet: Sheet, spot: Spot, along: Spot, half: float, count: int) -> None:
    """Steps: as many lines across the way, eight at most."""
    across = (-along[1], along[0])
    for n in range(min(count, 8)):
        middle = moved(spot, along, -4.0 * n)
        sheet.line([moved(middle, across, half), moved(middle, across, -half)], HEAVY, kind="step")


def draw_turn(sheet: Sheet, spot: Spot, radius: float) -> None:
    """The room there is to turn."""
    sheet.circle(spot, radius, "none", sheet.ink.ink, MEDIUM, "5 4", kind="turn")


def draw_arrow(sheet: Sheet, a: Spot, b: Spot) -> None:
    """Which way the wood goes: a small head in the middle of a line."""
    along = pointed(a, b)
    across = (-along[1], along[0])
    middle = ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
    tip, tail = moved(middle, along, 7.0), moved(middle, along, -5.0)
    sheet.area([tip, moved(tail, across, 5.0), moved(tail, across, -5.0)], sheet.ink.ink, sheet.ink.paper, THIN)


def draw_crane(sheet: Sheet, spot: Spot) -> None:
    """Where the boom turns."""
    sheet.circle(spot, 9.0, sheet.ink.paper, sheet.ink.ink, MEDIUM, kind="crane")
    for angle in (45.0, 135.0):
        d = (math.cos(math.radians(angle)), math.sin(math.radians(angle)))
        sheet.line([moved(spot, d, 9.0), moved(spot, d, -9.0)], MEDIUM)


def way_keys(surfaces: Sequence[str], sheets: bool, kinds: set[str]) -> list[Key]:
    """Only what occurs."""
    keys = [Key(_surface_sample(surface), f"way over {surface}") for surface in dict.fromkeys(surfaces)]
    samples: dict[str, tuple[str, Callable[[Sheet, Spot], None]]] = {
        "keep off": ("keep off", lambda s, at: draw_keep_off(s, _swatch(at), False, False)),
        "buried": ("keep off: under the lawn", lambda s, at: draw_keep_off(s, _swatch(at), True, False)),
        "gate": ("gate or passage", lambda s, at: draw_gate(s, at, (0.0, 1.0), 3.0, 8.0)),
        "steps": ("steps", lambda s, at: draw_steps(s, (at[0] + 6, at[1]), (1.0, 0.0), 6.0, 3)),
        "turn": ("room to turn", lambda s, at: draw_turn(s, at, 7.0)),
        "crane": ("crane", draw_crane),
    }
    keys += [Key(_sheet_sample, "sheet, numbered in order")] if sheets else []
    return keys + [Key(sample, words) for name, (words, sample) in samples.items() if name in kinds]


def _sheet_sample(sheet: Sheet, at: Spot) -> None:
    draw_sheet(sheet, _swatch(at))
    draw_sheet_number(sheet, _swatch(at), "7")


def _surface_sample(surface: str) -> Callable[[Sheet, Spot], None]:
    return lambda sheet, at: draw_surface(sheet, _swatch(at), surface)


def _swatch(at: Spot) -> list[Spot]:
    x, y = at
    return [(x - 15, y - 6), (x + 15, y - 6), (x + 15, y + 6), (x - 15, y + 6)]
