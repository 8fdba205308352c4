"""A paper: what it is called, what it cannot do without, what stands in it; and from that to data, text and print."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from bolewright.documents.given import Given, Signature
from bolewright.documents.parts import NOT_ENTERED, Section
from bolewright.documents.press import Printed, print_document, print_pages
from bolewright.documents.text import all_on_paper, shortened

TITLE_IN_STRIP = 50


@dataclass(frozen=True)
class Paper:
    """One kind of paper. `lacking` gives a sentence for everything without which it is not made at all."""

    name: str  # of the file, without its ending
    title: str
    folder: str  # below this one, with the template
    whom: str  # who it is for, under the title
    why: str  # one line for lists of papers
    lacking: Callable[[Given], list[str]]
    sections: Callable[[Given], list[Section]]
    uses: tuple[str, ...] = ()  # answers it is made from: weigh, hold, cuts, out
    signs: bool = False  # whether somebody outside the crew signs it
    one_leaf: bool = False  # whether a slightly smaller type is taken where that brings it onto one leaf
    chapters: Callable[[Given], list[dict[str, Any]]] | None = None
    prints: Callable[[Given], Printed] | None = None  # for a paper with a template of its own kind


def contents(paper: Paper, given: Given) -> dict[str, Any]:
    """Everything the template places; the signature is not part of it."""
    title = given.job.job.title
    data = {
        "name": paper.title,
        "title": title,
        "strip_title": shortened(title, TITLE_IN_STRIP),
        "whom": paper.whom,
        "company": _letter_head(given),
        "date": day_words(given.day),
        "paper": "us-letter" if given.units == "us" else "a4",
        "revision": given.revision,
        "one_leaf": paper.one_leaf,
        "sections": paper.sections(given),
        "chapters": paper.chapters(given) if paper.chapters is not None else [],
    }
    found: dict[str, Any] = all_on_paper(data)
    return found


def printed(paper: Paper, given: Given) -> Printed:
    """The paper as PDF, with the newest signature when there is one; the same bytes for the same data and day."""
    if paper.prints is not None:
        return paper.prints(given)
    data = contents(paper, given)
    signature = given.signed.get(paper.name)
    if signature is not None and signature.shown == fingerprint(data):  # a paper changed since then is not signed
        data["signature"] = all_on_paper(_signed(signature))
    return print_document(f"{paper.folder}/template.typ", data, given.day)


def pictured(paper: Paper, given: Given) -> list[bytes]:
    """The pages of the paper without a signature as PNG, as they are shown before it is signed."""
    return print_pages(f"{paper.folder}/template.typ", contents(paper, given))


def statement_of(data: dict[str, Any]) -> str:
    """What is declared with the signature."""
    blocks = (block for part in data["sections"] for block in part["blocks"] if block["kind"] == "sign")
    found = next(blocks, None)
    return str(found["statement"]) if found is not None else ""


def fingerprint(data: dict[str, Any]) -> str:
    """SHA-256 of the contents of a paper: what a signature is given to.

    The number of the revision is not part of it: a job may be changed elsewhere without a word of this paper changing.
    """
    data = {key: value for key, value in data.items() if key != "revision"}
    text = json.dumps(data, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def text_lines(data: dict[str, Any]) -> list[str]:
    """What is written in the paper, line by line: to show what differs between two versions."""
    lines = []
    for part in (*data["sections"], *(s for chapter in data["chapters"] for s in chapter["sections"])):
        lines.append(part["heading"])
        lines += [line for block in part["blocks"] for line in _lines(block)]
    return [line.replace("\u200b", "") for line in lines]


def _lines(block: dict[str, Any]) -> Iterator[str]:
    """A block as lines: rows joined, drawings by their words."""
    for row in (*block.get("rows", ()), *block.get("totals", ()), *block.get("foot", ()), *block.get("people", ())):
        cells = row.values() if isinstance(row, dict) else row
        yield " · ".join(filter(None, map(_cell, cells)))
    for inner in block.get("blocks", ()):
        yield from _lines(inner)
    for key in ("items", "texts"):
        yield from block.get(key, ())
    for box in block.get("boxes", ()):
        yield " · ".join(filter(None, box.values()))
    for key in ("text", "statement", "alt"):
        if block.get(key):
            yield block[key]


def _cell(cell: Any) -> str:
    if isinstance(cell, dict):
        return " ".join(str(value) for key, value in cell.items() if key in ("likely", "range", "alt") and value)
    if isinstance(cell, list):
        return "; ".join(" ".join(map(str, item)) if isinstance(item, list) else str(item) for item in cell)
    return "" if cell is None else str(cell)


def day_words(day: date | None) -> dict[str, Any]:
    """The day in words and as numbers; empty where it is not known."""
    if day is None:
        return {"words": "", "parts": None}
    return {"words": f"{day.day} {day:%B} {day.year}", "parts": [day.year, day.month, day.day]}


def _letter_head(given: Given) -> list[str]:
    company = given.job.company
    if company is None:
        return [f"Company: {NOT_ENTERED}"]
    reach = " · ".join(filter(None, (company.phone, company.email)))
    return [line for line in (company.name, company.address, reach, company.licence) if line]


def _signed(signature: Signature) -> Section:
    """The signature as given, with who, when, where, on what, and the hash of what was shown."""
    picture = None
    if signature.strokes:
        svg = (
            '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 600 200" width="600" height="200"><path '
            f'd="{signature.strokes}" fill="none" stroke="#1f1c18" stroke-width="4" stroke-linecap="round" '
            'stroke-linejoin="round"/></svg>'
        )
        picture = {"svg": svg, "alt": f"Signature of {signature.by}"}
    rows = [
        ["Signed by", signature.by],
        ["As", signature.role],
        ["When", signature.when],
        ["Where", signature.where or NOT_ENTERED],
        ["Device", signature.device or "not known"],
        ["Version", str(signature.version)],
    ]
    block = {
        "kind": "signed",
        "picture": picture,
        "by": signature.by,
        "facts": rows,
        "statement": signature.statement,
        "shown": signature.shown,
    }
    return {"heading": "Signed", "plain": "", "wide": False, "fresh": False, "held": False, "blocks": [block]}
