"""The parts papers are put together from, as plain data for the shared look: nothing here computes."""

from __future__ import annotations

import base64
from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Any

from bolewright.planning.haul.price import in_money

NOT_ENTERED = "not entered yet"
Block = dict[str, Any]
Section = dict[str, Any]


def section(
    heading: str, *blocks: Block | None, plain: str = "", wide: bool = False, fresh: bool = False, held: bool = False
) -> Section:
    """A heading with its blocks, and the same in plain words: beside them, or above when they take the whole width.

    `fresh` starts a new page; `held` is not parted from the section after it, so that no signature stands alone.
    """
    kept = [block for block in blocks if block is not None]
    return {"heading": heading, "plain": plain, "wide": wide, "fresh": fresh, "held": held, "blocks": kept}


def entered(value: object) -> str:
    """The value as text; what is missing is said, so that no blank can be taken for an answer."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = "" if value is None else str(value)
    return text or NOT_ENTERED


def facts(*rows: tuple[str, object], across: int = 1) -> Block:
    """Names with what belongs to them; missing ones are said to be missing. In `across` columns, down first."""
    return {"kind": "facts", "rows": [[name, entered(value)] for name, value in rows], "across": across}


def known_facts(*rows: tuple[str, object]) -> Block | None:
    """Only those that were entered, None when none was."""
    kept = [(name, value) for name, value in rows if value not in (None, "")]
    return facts(*kept) if kept else None


def beside(*columns: Sequence[Block]) -> Block:
    """Columns of blocks next to each other."""
    return {"kind": "beside", "blocks": [block for column in columns for block in column],
            "counts": [len(column) for column in columns]}  # fmt: skip


def words(text: str, strong: bool = False) -> Block:
    """A paragraph."""
    return {"kind": "words", "text": text, "strong": strong}


def points(items: Iterable[str], empty: str = NOT_ENTERED) -> Block:
    """A list; when it is empty that is said."""
    return {"kind": "points", "items": list(items) or [empty]}


def ticks(items: Iterable[str], empty: str = NOT_ENTERED, across: int = 2) -> Block:
    """Things to tick off by hand."""
    return {"kind": "ticks", "items": list(items), "empty": empty, "across": across}


def table(
    widths: Sequence[float],
    heads: Sequence[str],
    rows: Iterable[Sequence[Any]],
    right: Sequence[int] = (),
    totals: Iterable[Sequence[Any]] = (),
    empty: str = "",
) -> Block:
    """A ruled table. `right` are columns set to the right, `totals` rows set bold under a rule, `empty` stands in
    its place when there are no rows."""
    body = [list(row) for row in rows]
    if not body and empty:
        return words(empty)
    return {
        "kind": "table",
        "widths": list(widths),
        "heads": list(heads),
        "rows": body,
        "right": list(right),
        "totals": [list(row) for row in totals],
    }


def pair(likely_and_range: tuple[str, str]) -> dict[str, str]:
    """A cell with the likely value over its range."""
    return {"likely": likely_and_range[0], "range": likely_and_range[1]}


def figures(*boxes: tuple[str, str, str, str]) -> Block:
    """Boxes with large numbers: label, likely, range, note."""
    return {
        "kind": "figures",
        "boxes": [dict(zip(("label", "likely", "range", "note"), box, strict=True)) for box in boxes],
    }


def cautions(texts: Iterable[str], heading: str = "") -> Block:
    """Cautions in a ruled box."""
    return {"kind": "cautions", "heading": heading, "texts": list(texts)}


def stop(heading: str, texts: Iterable[str]) -> Block:
    """What stops the work, in the accent kept for it."""
    return {"kind": "stop", "heading": heading, "texts": list(texts)}


def card(heading: str, items: Iterable[str], foot: Iterable[tuple[str, object]] = ()) -> Block:
    """A page of large type to be read on a telephone or held in the hand."""
    return {"kind": "card", "heading": heading, "items": list(items), "foot": [[n, entered(v)] for n, v in foot]}


def blanks(widths: Sequence[float], heads: Sequence[str], least: int = 4, below: float = 0.0) -> Block:
    """Ruled rows to write into by hand, to the end of the page less so many inches."""
    return {"kind": "blanks", "least": least, "below": below, "widths": list(widths), "heads": list(heads)}


def picture(shown: dict[str, Any], caption: str = "", share: float = 1.0, most: float = 4.4) -> Block:
    """A drawing with its alternative text, at most so many inches high."""
    return {"kind": "picture", **shown, "caption": caption, "share": share, "most": most}


def sign(people: Iterable[tuple[str, object]], statement: str) -> Block:
    """Lines to sign on: role and name where known."""
    return {"kind": "sign", "statement": statement, "people": [[role, str(name or "")] for role, name in people]}


def photograph(jpeg: bytes, alt: str) -> dict[str, str]:
    """A JPEG as a drawing, since that is how the typesetter takes pictures from data."""
    code = base64.b64encode(jpeg).decode("ascii")
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 400 300" '
        f'width="400" height="300"><image width="400" height="300" xlink:href="data:image/jpeg;base64,{code}"/></svg>'
    )
    return {"svg": svg, "alt": alt}


def money(amount: Decimal | None, currency: str) -> str:
    """A sum with its currency, or that none was entered."""
    return NOT_ENTERED if amount is None else in_money(amount, currency)


def money_range(three: tuple[Decimal, Decimal, Decimal], currency: str) -> tuple[str, str]:
    """A likely sum and its range as two texts."""
    low, likely, high = (money(amount, currency) for amount in three)
    return likely, "" if low == high else f"{low} to {high}"
