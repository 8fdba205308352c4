"""Drawings made ready for paper, and the press behind every document."""

from __future__ import annotations

import datetime

from bolewright.documents.briefing.pictures import cropped, picture
from bolewright.documents.press import NO_SIGN, _missing_signs, print_document
from bolewright.drawings.ink import DAY
from bolewright.drawings.svg import Sheet
from bolewright.drawings.type_widths import Box


def drawing() -> str:
    sheet = Sheet(200.0, 100.0, DAY, "A & B", "what it shows <all of it>")
    sheet.text(10, 20, "kept", 12)
    sheet.text(150, 20, "beside", 12)
    sheet.text(10, 90, "below", 12)
    return sheet.written()


def test_picture_is_on_white_with_its_words_beside_it() -> None:
    """No tinted paper in print; title and description as plain text."""
    shown = picture(drawing())
    assert DAY.paper not in shown["svg"]
    assert shown["alt"] == "A & B. what it shows <all of it>"


def test_cropped_drawing_loses_the_words_outside() -> None:
    """What is cut away cannot be found by a search or read aloud."""
    shown = cropped(picture(drawing()), Box(0.0, 0.0, 100.0, 50.0))
    assert 'viewBox="0 0 100 50" width="100" height="50"' in shown["svg"]
    assert ">kept<" in shown["svg"]
    assert ">beside<" not in shown["svg"]
    assert ">below<" not in shown["svg"]
    assert shown["shape"] == 0.5


def test_signs_without_a_shape_are_found_in_the_complaint() -> None:
    """Plain and escaped signs."""
    told = 'the text `"日"` could not be displayed\nthe text `"\\u{1f600}"` could not be displayed with font'
    assert _missing_signs(told) == {"日", "😀"}


def test_document_with_unknown_signs_is_printed_and_accessible(tmp_path, monkeypatch) -> None:
    """A box in their place, and the paper passes the check for screen readers all the same."""
    template = '#set document(title: "T")\n#set text(lang: "en")\n= T\n#json(bytes(sys.inputs.data)).words'
    (tmp_path / "t.typ").write_text(template, encoding="utf-8")
    monkeypatch.setattr("bolewright.documents.press.ROOT", tmp_path)
    day = datetime.date(2026, 3, 28)
    paper = print_document("t.typ", {"words": "日本 oak"}, day)
    assert paper.accessible
    assert paper.pdf == print_document("t.typ", {"words": f"{NO_SIGN * 2} oak"}, day).pdf
