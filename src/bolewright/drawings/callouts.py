"""Labels of several lines with a leader, and numbered balloons, put where the placer finds room."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from bolewright.drawings.ink import MEDIUM, SMALL, TEXT, THIN
from bolewright.drawings.labels import CROSSED, NEAR, Placed, Placer
from bolewright.drawings.shapes import distance, moved, pointed
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import ASCENT, DESCENT, LEADING, Box, text_width

BALLOON = 11.0  # radius
ROUNDS = 8  # of placing all labels
WELL = 150.0  # cost up to which a label is well placed
Shape = Literal["circle", "square", "diamond"]


@dataclass(frozen=True)
class Words:
    """One line of a label."""

    text: str
    size: float = TEXT
    bold: bool = False
    mono: bool = False
    italic: bool = False
    colour: str | None = None

    @property
    def width(self) -> float:
        """Width on the wide side."""
        return text_width(self.text, self.size, self.bold, self.mono)


@dataclass(frozen=True)
class Callout:
    """A label that names one of several places."""

    lines: tuple[Words, ...]
    anchors: tuple[Spot, ...]
    towards: Spot = (0.0, -1.0)
    short: tuple[Words, ...] = ()  # what is left when there is no room for all
    leader: bool = True
    reach: float = 420.0


Found = tuple[Callout, tuple[Words, ...], Placed]


def size_of(lines: Sequence[Words]) -> tuple[float, float]:
    """Width and height of the lines set one under the other."""
    height = sum(w.size * LEADING for w in lines[:-1]) + lines[-1].size * (ASCENT + DESCENT)
    return max(w.width for w in lines), height


def put_callouts(sheet: Sheet, placer: Placer, callouts: Sequence[Callout]) -> int:
    """Draw all labels; those that were badly placed get first choice in the next of a few rounds, the best round
    is drawn. Gives back how many found no room."""
    order = list(callouts)
    for callout in order:
        if callout.leader and len(callout.anchors) == 1:
            placer.block_run(callout.anchors, 2)  # what one label names is not covered by another
    best: tuple[float, Placer, list[Found]] | None = None
    for _ in range(ROUNDS):
        trial = placer.copy()
        cost, found = _arranged(trial, order)
        if best is None or cost < best[0]:
            best = cost, trial, found
        well = {id(callout) for callout, _, placed in found if placed.cost < WELL}
        if len(well) == len(order):
            break
        order = [c for c in order if id(c) not in well] + [c for c in order if id(c) in well]
    assert best is not None
    placer.never, placer.leaders = best[1].never, best[1].leaders
    for callout, _, placed in best[2]:
        if distance(placed.anchor, placed.touch) > 9 and (callout.leader or not _holds(placed)):
            _draw_leader(sheet, placed)
    for callout, lines, placed in best[2]:
        side = placed.side if callout.leader or not _holds(placed) else "top"
        draw_lines(sheet, lines, placed.box, {"right": "end", "left": "start"}.get(side, "middle"))
    return len(callouts) - len(best[2])


def _arranged(placer: Placer, order: Sequence[Callout]) -> tuple[float, list[Found]]:
    """Places for labels taken in this order, and what they cost together."""
    cost = 0.0
    found: list[Found] = []
    for callout in order:
        near = NEAR if callout.leader else -1.0
        for lines in (callout.lines, callout.short):
            width, height = size_of(lines) if lines else (math.inf, math.inf)
            placed = (
                placer.place(callout.anchors, width, height, callout.towards, near, callout.reach) if lines else None
            )
            if placed is not None:
                placer.settle(placed, leader=callout.leader or not _holds(placed))
                found.append((callout, lines, placed))
                cost += placed.cost
                break
        else:
            cost += 20 * CROSSED
    return cost, found


def _holds(placed: Placed) -> bool:
    """True when what is named lies inside the label or next to it."""
    x, y = placed.anchor
    box = placed.box.grown(12)
    return box.x0 <= x <= box.x1 and box.y0 <= y <= box.y1


def draw_lines(sheet: Sheet, lines: Sequence[Words], box: Box, anchor: str, kind: str = "label") -> None:
    """Lines of text in a box, with a halo of paper so that what lies behind does not disturb them."""
    y = box.y0
    for words in lines:
        baseline = y + ASCENT * words.size
        x = {"start": box.x0, "end": box.x1, "middle": (box.x0 + box.x1) / 2}[anchor]
        sheet.text(x, baseline, words.text, words.size, anchor, words.bold, words.mono, words.italic, words.colour,
                   kind, halo=True)  # fmt: skip
        y += words.size * LEADING


def _draw_leader(sheet: Sheet, placed: Placed) -> None:
    sheet.line([placed.touch, placed.anchor], 2.6, sheet.ink.paper)
    sheet.line([placed.touch, placed.anchor], THIN, sheet.ink.ink, kind="leader")
    sheet.circle(placed.anchor, 1.6, sheet.ink.ink)


def put_balloon(sheet: Sheet, placer: Placer, number: int, anchors: tuple[Spot, ...], shape: Shape = "circle",
                towards: Spot = (0.0, -1.0)) -> bool:  # fmt: skip
    """A numbered balloon beside one of the anchors, tied to it by a short leader."""
    r = BALLOON if number < 100 else BALLOON + 3
    placed = placer.place(anchors, 2 * r + 2, 2 * r + 2, towards, near=4)
    if placed is None:
        return False
    placer.settle(placed)
    centre = ((placed.box.x0 + placed.box.x1) / 2, (placed.box.y0 + placed.box.y1) / 2)
    if distance(centre, placed.anchor) > r:
        start = moved(centre, pointed(centre, placed.anchor), r)
        sheet.line([start, placed.anchor], 2.6, sheet.ink.paper)
        sheet.line([start, placed.anchor], THIN, sheet.ink.ink, kind="leader")
    draw_balloon(sheet, number, centre, shape, r)
    return True


def draw_balloon(sheet: Sheet, number: int | str, centre: Spot, shape: Shape = "circle", r: float = BALLOON) -> None:
    """The balloon itself: a circle for a cut, a square to set in place, a diamond to take away."""
    x, y = centre
    ink = sheet.ink
    if shape == "circle":
        sheet.circle(centre, r, ink.paper, ink.ink, MEDIUM, kind="balloon")
    elif shape == "square":
        sheet.rect(Box(x - r, y - r, x + r, y + r).grown(-1), ink.paper, ink.ink, MEDIUM, kind="balloon")
    else:
        ring = [(x, y - r - 2), (x + r + 2, y), (x, y + r + 2), (x - r - 2, y)]
        sheet.area(ring, ink.paper, ink.ink, MEDIUM, kind="balloon")
    size = SMALL if len(str(number)) < 3 else SMALL - 2
    sheet.text(x, y + size * 0.36, str(number), size, "middle", bold=True, kind="number")
