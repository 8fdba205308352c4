"""Marks on a copy of a photograph: where they were put, words inside the picture and clear of each other."""

from __future__ import annotations

import base64
import re
from collections.abc import Sequence
from xml.etree import ElementTree

import pytest

from bolewright.drawings.photo_marks import LONG, PhotoMark, marked_photo
from bolewright.drawings.type_widths import text_width

SVG = "{http://www.w3.org/2000/svg}"
MARKS = [
    PhotoMark("arrow", (0.05, 0.05), (0.5, 0.5), "flashing torn, and the gutter below it hangs by two brackets"),
    PhotoMark("scale", (0.7, 0.9), (0.7, 0.5), "scale 80 cm"),
    PhotoMark("length", (0.6, 0.9), (0.6, 0.6), "opening: 71 in (62 to 79)"),
    PhotoMark("text", (0.99, 0.99), None, "& <gone> Äste"),
    PhotoMark("arrow", (0.2, 0.9), (0.4, 0.9), ""),
]


LONG_WORD = "W" * 60 + "m" * 60  # as long as a mark's words may be, in the widest letters


def drawn(width: int, height: int, marks: Sequence[PhotoMark] = MARKS) -> ElementTree.Element:
    return ElementTree.fromstring(marked_photo(b"\xff\xd8 a picture", width, height, marks, "Photograph 3"))


def test_the_picture_is_inside_and_marks_stand_where_they_were_put() -> None:
    """Byte for byte, at its own shape; the point of the arrow and both ends of the scale to the pixel."""
    root = drawn(1200, 1600)
    image = root.find(f"{SVG}image")
    assert image is not None
    assert base64.b64decode(image.attrib["href"].partition(",")[2]) == b"\xff\xd8 a picture"
    assert (float(image.attrib["width"]), float(image.attrib["height"])) == (900.0, LONG)
    lines = [e.attrib["points"] for e in root.iter() if e.tag in (f"{SVG}polyline", f"{SVG}polygon")]
    assert sum(points.startswith("450,600 ") for points in lines) == 2  # casing and ink of the head
    assert lines.count("630,1080 630,600") == 2
    dashed = [e.attrib["points"] for e in root.iter(f"{SVG}polyline") if e.get("stroke-dasharray")]
    assert dashed == ["540,1080 540,720"]


def test_words_stay_inside_and_clear_of_each_other() -> None:
    """Upright, lying and as narrow as a panorama."""
    for width, height in ((1200, 1600), (1600, 1200), (1600, 500)):
        root = drawn(width, height)
        slips = [e.attrib for e in root.iter(f"{SVG}rect") if e.get("stroke")]
        assert len(slips) == 4
        boxes = [tuple(float(s[k]) for k in ("x", "y", "width", "height")) for s in slips]
        sheet = [float(v) for v in root.attrib["viewBox"].split()]
        for x, y, w, h in boxes:
            assert 0 <= x <= sheet[2] - w, (width, height)
            assert 0 <= y <= sheet[3] - h, (width, height)
        apart = [
            a[0] + a[2] <= b[0] or b[0] + b[2] <= a[0] or a[1] + a[3] <= b[1] or b[1] + b[3] <= a[1]
            for n, a in enumerate(boxes) for b in boxes[:n]
        ]  # fmt: skip
        assert all(apart), (width, height)
    words = " ".join(t.text or "" for t in root.iter(f"{SVG}text"))
    assert "& <gone> Äste" in words
    assert re.search("hangs by two brackets", words)


@pytest.mark.parametrize("size", [(1200, 1600), (1600, 1200), (1600, 320), (320, 1600), (1600, 32), (32, 1600)])
@pytest.mark.parametrize("at", [(0.0, 0.0), (1.0, 1.0), (0.5, 0.99)])
def test_a_long_word_stays_whole_and_inside(size: tuple[int, int], at: tuple[float, float]) -> None:
    """Every letter is drawn, each line inside its slip, the slip inside the picture; on strips of a picture too."""
    scale = f"scale 2 ft 8 in, {LONG_WORD}"
    root = drawn(*size, [PhotoMark("text", at, None, LONG_WORD), PhotoMark("scale", at, (0.4, 0.4), scale)])
    sheet = [float(v) for v in root.attrib["viewBox"].split()]
    slips = [[float(e.attrib[k]) for k in ("x", "y", "width", "height")] for e in root.iter(f"{SVG}rect")
             if e.get("stroke")]  # fmt: skip
    assert len(slips) == 2
    for left, top, wide, high in slips:
        assert 0 <= left <= sheet[2] - wide
        assert 0 <= top <= sheet[3] - high
    words = list(root.iter(f"{SVG}text"))
    assert "".join(t.text or "" for t in words).replace(" ", "") == (LONG_WORD + scale).replace(" ", "")
    for text in words:
        x, y, type_size = (float(text.attrib[k]) for k in ("x", "y", "font-size"))
        right = x + text_width(text.text or "", type_size)
        assert any(
            left <= x <= right <= left + wide and top <= y - 0.9 * type_size and y + 0.2 * type_size <= top + high
            for left, top, wide, high in slips
        ), text.text
