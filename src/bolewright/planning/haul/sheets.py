"""Which sheet lies where: runs of soft ground covered one after another, places and sheets numbered from the tree."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from bolewright.core.ground.boards import SIDE_ROOM, Layout, layout, sheets_in_line
from bolewright.job.out import Boards
from bolewright.planning.haul.results import RouteOut, SheetPlace, Spot, StretchOut

SOFT = ("lawn", "soil")
BEND = math.radians(20.0)  # a sharper bend begins a new line of sheets (common practice)


@dataclass(frozen=True)
class Laying:
    """All places for sheets on a route."""

    places: tuple[SheetPlace, ...]  # not numbered yet
    sheets: int  # layers counted
    lanes: int
    crosswise: bool
    words: str


def laid_out(boards: Boards, route: RouteOut, track: float) -> Laying:
    """The places sheets take under wheels `track` wide [m]: each run of soft ground by itself, with room to turn.

    A run ends where the ground gets hard and where the way bends sharply. Joints lapped by the lap asked for or a
    little more, so that the sheets end with the run.
    """
    length, width = boards.length.likely, boards.width.likely
    lap = boards.lap.likely if boards.laid == "lapped" else 0.0
    runs = list(_runs(route))
    laid = [(run, layout(run[1] - run[0], track, length, width, lap)) for run in runs]
    places = [place for run, one in laid for place in _in_line(run, one, (length, width), track)]
    turning = [place for one in route.stretches for place in _to_turn(one, length, width, lap)]
    main = max((one for _, one in laid), key=lambda one: one.sheets)
    words = main.words + (f", in {len(runs)} runs" if len(runs) > 1 else "")
    words += f", {len(turning)} more to turn on" if turning else ""
    words += f", {boards.layers} sheets on top of each other" if boards.layers > 1 else ""
    count = (len(places) + len(turning)) * boards.layers
    return Laying((*places, *turning), count, main.lanes, main.crosswise, words)


def numbered(places: Sequence[SheetPlace], down: int, route: RouteOut) -> tuple[SheetPlace, ...]:
    """The places numbered from the tree, with the number of the sheet that lies there first.

    With `down` places covered at a time the sheet behind is carried ahead: place down + 1 gets sheet 1 again.
    """
    order = sorted(places, key=lambda place: (place.from_m, place.right_m))
    return tuple(
        replace(place, n=n, sheet=(n - 1) % max(down, 1) + 1, corners=_corners(place, route))
        for n, place in enumerate(order, 1)
    )


def _runs(route: RouteOut) -> Iterator[tuple[float, float]]:
    """Stretches of soft ground that one line of sheets covers, from and to along the way [m]."""
    start: float | None = None
    last: StretchOut | None = None
    for one in route.stretches:
        bends = last is not None and start is not None and _bend(last, one) > BEND
        if start is not None and last is not None and (one.surface not in SOFT or bends):
            yield start, last.to_m
            start = None
        if one.surface in SOFT and start is None:
            start = one.from_m
        last = one
    if start is not None and last is not None:
        yield start, last.to_m


def _bend(before: StretchOut, after: StretchOut) -> float:
    """How sharply the way turns between two stretches [rad], 0 where it is not on the plan."""
    first, second = _direction(before), _direction(after)
    if first is None or second is None:
        return 0.0
    return math.acos(max(-1.0, min(1.0, first[0] * second[0] + first[1] * second[1])))


def _direction(one: StretchOut) -> Spot | None:
    if one.start is None or one.end is None:
        return None
    x, y = one.end[0] - one.start[0], one.end[1] - one.start[1]
    length = math.hypot(x, y)
    return (x / length, y / length) if length > 0.0 else None


def _in_line(run: tuple[float, float], laid: Layout, size: tuple[float, float], track: float) -> Iterator[SheetPlace]:
    """The sheets of one run, joints spread evenly."""
    along, across = size[::-1] if laid.crosswise else size
    count = laid.sheets // laid.lanes
    step = (run[1] - run[0] - along) / (count - 1) if count > 1 else 0.0
    edge = track / 2.0 + SIDE_ROOM
    lanes = [(-edge, across - edge), (edge - across, edge)] if laid.lanes == 2 else [(-across / 2.0, across / 2.0)]
    for n in range(count):
        start = run[0] + n * step
        for right, left in lanes:
            yield SheetPlace(0, 0, start, start + along, right, left, ())


def _to_turn(one: StretchOut, length: float, width: float, lap: float) -> Iterator[SheetPlace]:
    """Sheets beside the way that make a square to turn on, ending with the stretch.

    The way itself covers one lane of the square; the rest takes sheets side by side, left and right in turn.
    """
    if one.turn_m is None or one.surface not in SOFT:
        return
    rows = max(math.ceil((one.turn_m - width) / max(width - lap, 0.1)), 0)
    count = sheets_in_line(one.turn_m, length, lap)
    step = (one.turn_m - length) / (count - 1) if count > 1 else 0.0
    first = max(one.to_m - max(one.turn_m, length), 0.0)
    for row in range(rows):
        side, out = (1.0, -1.0)[row % 2], row // 2
        near = side * (width / 2.0 - lap + out * (width - lap))
        right, left = sorted((near, near + side * width))
        for n in range(count):
            start = first + n * step
            yield SheetPlace(0, 0, start, start + length, right, left, (), True)


def _corners(place: SheetPlace, route: RouteOut) -> tuple[Spot, ...]:
    """The sheet on the site plan, true in size, along the stretch its middle lies on."""
    middle = (place.from_m + place.to_m) / 2.0
    one = next((s for s in route.stretches if s.from_m <= middle <= s.to_m), route.stretches[-1])
    ahead = _direction(one)
    if ahead is None or one.start is None or one.end is None:
        return ()
    share = (middle - one.from_m) / max(one.to_m - one.from_m, 1e-9)
    x, y = (a + (b - a) * share for a, b in zip(one.start, one.end, strict=True))
    half = (place.to_m - place.from_m) / 2.0
    ends = ((-half, place.right_m), (half, place.right_m), (half, place.left_m), (-half, place.left_m))
    return tuple((x + a * ahead[0] - b * ahead[1], y + a * ahead[1] + b * ahead[0]) for a, b in ends)
