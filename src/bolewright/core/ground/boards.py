"""Laying boards: how many sheets a route takes, and how often they are moved when there are fewer."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bolewright.core.base.errors import BadInput

SIDE_ROOM = 0.1  # m of board beside each outer wheel (common practice)
LEAST_AHEAD = 3  # sheets: one under the load, one ahead of it, one being moved (common practice)


@dataclass(frozen=True)
class Layout:
    """A way of laying sheets along a route."""

    sheets: int
    lanes: int
    crosswise: bool
    words: str


@dataclass(frozen=True)
class Moves:
    """Sheets down at once, and sheet moves for all passes when they are fewer than the route takes."""

    down: int
    moves: int
    leap_frog: bool
    words: str


def sheets_in_line(route: float, length: float, lap: float) -> int:
    """Sheets laid end to end with lapped joints that cover a route [m].

    Picture: the first covers its length, each further one its length less the lap.
    Parameters: route, sheet length and lap [m]. Raises: BadInput.
    Source: geometry.
    Checked by: tests/handbook/test_panels.py
    """
    if route < 0.0 or length <= 0.0 or not 0.0 <= lap < length / 2.0:
        raise BadInput("A sheet has a length above zero, and laps less than half of it.")
    if route == 0.0:
        return 0
    return max(math.ceil((route - lap) / (length - lap) - 1e-9), 1)


def layout(route: float, track: float, length: float, width: float, lap: float) -> Layout:
    """The way of laying that takes the fewest sheets under wheels `track` wide over all [m].

    Lengthwise in one lane where the wheels fit on one sheet, else crosswise where they fit on its length, else
    lengthwise in two lanes, one under each side.
    Parameters: route, outer width over the wheels, sheet length and width, lap [m]. Raises: BadInput.
    Source: geometry; 0.1 m of board beside each wheel is common practice.
    Checked by: tests/handbook/test_panels.py
    """
    needed = track + 2.0 * SIDE_ROOM
    if needed <= width:
        return Layout(sheets_in_line(route, length, lap), 1, False, "one lane, lengthwise")
    two = 2 * sheets_in_line(route, length, lap)
    if needed <= length:
        across = sheets_in_line(route, width, min(lap, 0.45 * width))
        if across <= two:
            return Layout(across, 1, True, "one lane, crosswise")
    return Layout(two, 2, False, "two lanes, lengthwise, one under each side")


def leap_frog(needed: int, have: int, passes: int, lanes: int = 1) -> Moves:
    """How often sheets are picked up and laid ahead [-] for `passes` one-way passes with fewer than the route takes.

    Picture: what is missing is carried forward on every pass, out and back. Fewer than three a lane cannot be leap-
    frogged: one is under the load, one ahead, one in hand.
    Parameters: sheets needed and at hand, one-way passes, lanes. Raises: BadInput.
    Source: counting.
    Checked by: tests/handbook/test_panels.py
    """
    if min(needed, have, passes) < 0 or lanes < 1:
        raise BadInput("Sheets and passes are not negative.")
    if have >= needed:
        return Moves(needed, 0, False, "all sheets stay down")
    if have < LEAST_AHEAD * lanes:
        raise BadInput(
            f"{have} sheets cannot be leap-frogged: bring at least {LEAST_AHEAD * lanes}, "
            f"or {needed} to leave them down."
        )
    moves = (needed - have) * passes
    return Moves(have, moves, True, f"{needed - have} sheets short: {moves} moves of a sheet over {passes} passes")
