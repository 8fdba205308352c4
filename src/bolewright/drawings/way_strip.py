"""The way unrolled from the tree to the street, to scale, with every sheet in its place."""

from __future__ import annotations

import math

from bolewright.drawings import units as u
from bolewright.drawings.ink import HEAVY, MEDIUM, SMALL, THIN
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box, text_width
from bolewright.drawings.units import Units
from bolewright.drawings.way_marks import (
    draw_sheet,
    draw_sheet_number,
    draw_steps,
    draw_surface,
    draw_turn,
    sheet_numbers,
)
from bolewright.planning.haul.results import OutResult, SheetPlace, StretchOut

SIDE, TOP, FOOT = 34.0, 34.0, 26.0
LEAST, MOST, ROWS = 22.0, 34.0, 4  # sheet units a metre; rows at most
GAP = 24.0  # between rows, for the distances
INNER = 1200.0 - 2.0 * 12.0 - 2.0 * SIDE


class Strip:
    """How the way is broken into rows."""

    def __init__(self, result: OutResult) -> None:
        stretches = result.route.stretches
        self.length = max((one.to_m for one in stretches), default=1.0)
        self.rows = max(1, min(math.ceil(self.length * LEAST / INNER), ROWS))
        self.row = self.length / self.rows
        self.scale = min(INNER / self.row, MOST)
        boards = result.boards
        edges = [abs(edge) for place in (boards.places if boards else ()) for edge in (place.left_m, place.right_m)]
        turns = [one.turn_m / 2.0 for one in stretches if one.turn_m is not None]
        self.half = max([result.route.track_m / 2.0, *edges, *turns]) * self.scale
        self.deep = 2.0 * self.half + GAP

    def spot(self, box: Box, along: float, across: float, row: int) -> Spot:
        """Sheet place; + across is to the left of the way, which is up."""
        x = box.x0 + SIDE + (along - row * self.row) * self.scale
        return x, box.y0 + TOP + row * self.deep + self.half - across * self.scale


def strip_height(result: OutResult) -> float:
    """Room the strip needs."""
    strip = Strip(result)
    return TOP + strip.rows * strip.deep + FOOT


def draw_strip(sheet: Sheet, box: Box, result: OutResult, units: Units) -> None:
    """Surfaces, sheets with their numbers, steps and turning places, row by row."""
    strip = Strip(result)
    sheet.line([(box.x0, box.y0), (box.x1, box.y0)], MEDIUM)
    head = "The way unrolled, from the tree (left) to where it is loaded"
    sheet.text(box.x0 + 12, box.y0 + 20, head, SMALL, bold=True)
    sheet.text(box.x1 - 12, box.y0 + 20, _sizes(result, units), SMALL, "end", italic=True)
    numbers = sheet_numbers(result.boards, ahead=True)
    for row in range(strip.rows):
        for one in result.route.stretches:
            _draw_stretch(sheet, box, strip, result, one, row, units)
        places = [place for place in (result.boards.places if result.boards else ()) if _row(strip, place) == row]
        sheets = [(place.n, _ring(box, strip, place, row)) for place in places]
        for _, ring in sheets:
            draw_sheet(sheet, ring)
        for n, ring in sheets:
            draw_sheet_number(sheet, ring, numbers[n])
        for one in result.route.stretches:
            _draw_marks(sheet, box, strip, result, one, row)


def _sizes(result: OutResult, units: Units) -> str:
    boards = result.boards
    if boards is None or not boards.places:
        return "to scale; no sheets"
    size = f"{u.length(boards.length_m, units)} × {u.length(boards.width_m, units)}"
    ahead = f"; sheet number in brackets once {boards.down} are down" if boards.moves else ""
    return f"to scale: a sheet is {size}{ahead}"


def _draw_stretch(
    sheet: Sheet, box: Box, strip: Strip, result: OutResult, one: StretchOut, row: int, units: Units
) -> None:
    """The part of a stretch that falls in a row, with its surface and its end's distance from the tree."""
    start, end = max(one.from_m, row * strip.row), min(one.to_m, (row + 1) * strip.row)
    if end - start <= 1e-6:
        return
    half = result.route.track_m / 2.0
    ring = [strip.spot(box, a, b, row) for a, b in ((start, half), (end, half), (end, -half), (start, -half))]
    draw_surface(sheet, ring, one.surface)
    floor = strip.spot(box, 0.0, 0.0, row)[1] + strip.half
    for along in (start, end) if start == row * strip.row else (end,):
        x = strip.spot(box, along, 0.0, row)[0]
        sheet.line([(x, floor + 1), (x, floor + 7)], THIN)
        sheet.text(x, floor + 19, u.length(along, units) if along else "0", SMALL - 1, "middle", mono=True)
    width = (end - start) * strip.scale
    if text_width(one.surface, SMALL) + 140 < width:
        sheet.text((ring[0][0] + ring[1][0]) / 2.0, floor + 19, one.surface, SMALL, "middle", italic=True)


def _row(strip: Strip, place: SheetPlace) -> int:
    """The row that the middle of a sheet lies in."""
    middle = (place.from_m + place.to_m) / 2.0
    return min(int(max(middle, 0.0) / strip.row), strip.rows - 1)


def _ring(box: Box, strip: Strip, place: SheetPlace, row: int) -> list[Spot]:
    """The outline of a sheet."""
    ends, sides = (place.from_m, place.to_m), (place.left_m, place.right_m)
    order = ((0, 0), (1, 0), (1, 1), (0, 1))
    return [strip.spot(box, ends[a], sides[b], row) for a, b in order]


def _draw_marks(sheet: Sheet, box: Box, strip: Strip, result: OutResult, one: StretchOut, row: int) -> None:
    """Steps and room to turn at the end of a stretch."""
    if min(int(max(one.to_m - 1e-6, 0.0) / strip.row), strip.rows - 1) != row:
        return
    spot = strip.spot(box, one.to_m, 0.0, row)
    draw_steps(sheet, spot, (1.0, 0.0), result.route.track_m / 2.0 * strip.scale, one.steps)
    if one.turn_m is not None:
        middle = strip.spot(box, one.to_m - one.turn_m / 2.0, 0.0, row)
        draw_turn(sheet, middle, one.turn_m / 2.0 * strip.scale)
    sheet.line([(spot[0], spot[1] - 4), (spot[0], spot[1] + 4)], HEAVY)
