"""A copy of a photograph with what somebody drew on it: arrows, words, a scale and lengths read by it.

Ink on a casing of paper, so that a mark stands out from dark and light alike. The picture is carried in the drawing.
"""

from __future__ import annotations

import base64
from collections.abc import Sequence
from dataclasses import dataclass

from bolewright.drawings.ink import DAY
from bolewright.drawings.shapes import between, distance, moved, pointed
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import DESCENT, LEADING, Box, text_width, wrapped

LONG, SHORT = 1200.0, 320.0  # the longer side of every such drawing; more for a strip, so that its shorter one is this
SIZES = (30.0, 24.0, 19.0)  # of a label, the largest at which all of it stands in the picture
WEIGHT, CASING = 5.0, 12.0
WIDEST, NARROWEST = 0.55, 280.0  # one line of a label: share of the picture, and what it may always have
HEAD, BAR, GAP, EDGE = 34.0, 20.0, 16.0, 4.0


@dataclass(frozen=True)
class PhotoMark:
    """One mark. Places are shares of width and height from the top left corner; `told` is the same in a sentence."""

    kind: str  # arrow | text | scale | length
    start: Spot
    end: Spot | None
    label: str
    told: str = ""


def marked_photo(jpeg: bytes, width: int, height: int, marks: Sequence[PhotoMark], title: str) -> str:
    """The drawing: the picture (JPEG, upright, width by height pixels) under its marks."""
    scale = max(LONG / max(width, height), SHORT / min(width, height))
    wide, high = width * scale, height * scale
    sheet = Sheet(wide, high, DAY, title, "; ".join(m.told or m.label for m in marks))
    code = base64.b64encode(jpeg).decode("ascii")
    sheet.add("image", {"x": 0.0, "y": 0.0, "width": wide, "height": high, "href": f"data:image/jpeg;base64,{code}"})
    placed = [(m, (m.start[0] * wide, m.start[1] * high), _end(m, wide, high)) for m in marks]
    for mark, start, end in placed:
        if end is not None:
            _line(sheet, mark.kind, start, end)
    taken: list[Box] = []
    for mark, start, end in placed:
        if mark.label:
            drawn = [between(a, b, k / 40) for _, a, b in placed if b is not None for k in range(41)]
            taken.append(_label(sheet, mark, start, end, taken, drawn))
    return sheet.written()


def _end(mark: PhotoMark, wide: float, high: float) -> Spot | None:
    return (mark.end[0] * wide, mark.end[1] * high) if mark.end is not None else None


def _line(sheet: Sheet, kind: str, start: Spot, end: Spot) -> None:
    """Casing first, ink over it."""
    if kind == "arrow":
        _arrow(sheet, start, end)
        return
    along = pointed(start, end)
    across = (-along[1], along[0])
    bars = [[moved(spot, across, -BAR), moved(spot, across, BAR)] for spot in (start, end)]
    for colour, weight in ((sheet.ink.paper, CASING), (sheet.ink.ink, WEIGHT)):
        dash = "16 12" if kind == "length" and colour == sheet.ink.ink else None
        sheet.line([start, end], weight, colour, dash)
        for bar in bars:
            sheet.line(bar, weight, colour)


def _arrow(sheet: Sheet, start: Spot, end: Spot) -> None:
    along = pointed(start, end)
    across = (-along[1], along[0])
    head = min(HEAD, 0.6 * distance(start, end))
    neck = moved(end, along, -head)
    tip = [end, moved(neck, across, 0.45 * head), moved(neck, across, -0.45 * head)]
    sheet.line([start, moved(neck, along, 2.0)], CASING, sheet.ink.paper)
    sheet.area(tip, sheet.ink.paper, sheet.ink.paper, CASING - WEIGHT)
    sheet.line([start, moved(neck, along, 2.0)], WEIGHT, sheet.ink.ink)
    sheet.area(tip, sheet.ink.ink)


def _label(sheet: Sheet, mark: PhotoMark, start: Spot, end: Spot | None, taken: Sequence[Box],
           drawn: Sequence[Spot]) -> Box:  # fmt: skip
    """Words on a slip of paper, beside the mark, inside the picture, clear of slips and lines where there is room."""
    size, lines = _lines(sheet, mark.label)
    wide, high = _slip(size, lines)
    boxes = [_inside(sheet, spot, wide, high) for spot in _spots(mark, start, end, wide, high)]
    box = min(boxes, key=lambda b: 100 * sum(b.meets(t) for t in taken) + sum(_holds(b, spot) for spot in drawn))
    sheet.rect(box, sheet.ink.paper, sheet.ink.ink, 2.0)
    for n, line in enumerate(lines):
        sheet.text(box.x0 + GAP, box.y0 + GAP / 2 + (n + 1) * LEADING * size - DESCENT * size, line, size)
    return box


def _lines(sheet: Sheet, label: str) -> tuple[float, list[str]]:
    """Size and lines of a label: all of its words, a long one over several lines, smaller where there are many."""
    size, lines = SIZES[0], list[str]()
    for size in SIZES:
        lines = wrapped(label, size, max(WIDEST * sheet.width, NARROWEST), cut=False)
        if _slip(size, lines)[1] <= sheet.height - 2 * EDGE:
            break
    return size, lines


def _slip(size: float, lines: Sequence[str]) -> tuple[float, float]:
    """Width and height of the slip such lines stand on."""
    return max(text_width(line, size) for line in lines) + 2 * GAP, len(lines) * LEADING * size + GAP


def _spots(mark: PhotoMark, start: Spot, end: Spot | None, wide: float, high: float) -> list[Spot]:
    """Centres of the slip, the best first: words at their point, an arrow's behind its tail, a length's beside it."""
    if end is None:
        return [start, (start[0], start[1] + high), (start[0], start[1] - high)]
    along = pointed(start, end)
    if mark.kind == "arrow":
        far = abs(along[0]) * wide / 2 + abs(along[1]) * high / 2 + GAP
        return [moved(start, along, -far), (start[0], start[1] - high), (start[0], start[1] + high)]
    middle, across = between(start, end, 0.5), (along[1], -along[0])
    far = abs(across[0]) * wide / 2 + abs(across[1]) * high / 2 + BAR + GAP
    spots = [moved(spot, across, side * far) for spot in (middle, start, end) for side in (1, -1)]
    return [*spots, moved(start, along, -high), moved(end, along, high)]


def _holds(box: Box, spot: Spot) -> bool:
    return box.x0 <= spot[0] <= box.x1 and box.y0 <= spot[1] <= box.y1


def _inside(sheet: Sheet, centre: Spot, wide: float, high: float) -> Box:
    x = min(max(centre[0] - wide / 2, EDGE), sheet.width - wide - EDGE)
    y = min(max(centre[1] - high / 2, EDGE), sheet.height - high - EDGE)
    return Box(x, y, x + wide, y + high)
