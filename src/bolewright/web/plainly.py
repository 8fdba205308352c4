"""Sentences and places of the job document in the words of the sheet: the file has tables, the sheet has forms."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache

from bolewright.job.draft import place_names
from bolewright.web.cells import Field, Section
from bolewright.web.fields import call_sections, measure_sections, out_sections, paper_sections, work_sections
from bolewright.web.stages import FAILED, STAGES, STANDING
from bolewright.web.standing_fields import standing_pages

_LYING: dict[str, Callable[[], tuple[Section, ...]]] = {
    "call": call_sections, "measure": measure_sections, "cuts": work_sections, "out": out_sections,
    "papers": paper_sections,
}  # fmt: skip
_TABLE = r"\[{1,2}([a-z_]+(?:\.[a-z_]+)*)\]{1,2}"
_KEYS = re.compile(rf"\b([a-z_]+)(?: or ([a-z_]+))? in {_TABLE}")
_HEADING = re.compile(rf"(?:the )?(?:table |heading )?{_TABLE}")
_MISSING = re.compile(r'write [a-z_]+ = (?:"\.\.\."|("?)([^"=]+?)\1) \((.+)\)\.')
_ROW = re.compile(r"^\d+(?:st|nd|rd|th) [a-z_.]+: ")
_IN_THE_FILE = (
    (", in quotes", ""), (" in quotes,", ""), (", without quotes", ""), (" without quotes", ""),
    ("Write true or false", "Choose yes or no"),
)  # fmt: skip


def plainly(sentence: str) -> str:
    """A sentence that may name tables and fields of the file, naming forms and cells instead."""
    said = _ROW.sub("", str(sentence))
    said = _MISSING.sub(_missing, said)
    said = _HEADING.sub(_heading, _KEYS.sub(_keys, said))
    for file, sheet in _IN_THE_FILE:
        said = said.replace(file, sheet)
    return said


def place(path: str) -> str:
    """Where on the sheet a place of the document is asked for: form, row, cell; the path itself where it is not."""
    names, row = place_names(path)
    for k in range(len(names), 0, -1):
        rest = ".".join(names[k:])
        found = _form(tuple(names[:k]), rest)
        if found is None:
            continue
        cell = _cell(found[1], rest)
        return found[1].title + (f", {row}" if row else "") + (f": {cell.label}" if cell else "")
    return path


def _missing(found: re.Match[str]) -> str:
    example = f', such as "{found[2]}"' if found[2] else ""
    return f"enter it{example} ({found[3]})."


def _keys(found: re.Match[str]) -> str:
    """Cells of a form."""
    keys, parts = [key for key in (found[1], found[2]) if key], tuple(found[3].split("."))
    form = _form(parts, keys[0])
    cells = [_cell(form[1], key) for key in keys] if form else []
    if form is None or None in cells:
        return found[0]
    return f"{' or '.join(f'“{cell.label}”' for cell in cells if cell)} in {_title(form)}"


def _heading(found: re.Match[str]) -> str:
    form = _form(tuple(found[1].split(".")), "")
    return _title(form) if form else found[0]


def _title(form: tuple[str, Section]) -> str:
    return f"“{form[1].title}” on the page {form[0]}"


def _form(path: tuple[str, ...], key: str) -> tuple[str, Section] | None:
    """The page and form of a table; of two forms for one table the one with this cell."""
    found = [(word, section) for word, section in _forms() if section.path == path]
    return next((one for one in found if _cell(one[1], key)), found[0] if found else None)


def _cell(section: Section, key: str) -> Field | None:
    return next((field for field in section.fields if key and field.key == key), None)


@cache
def _forms() -> tuple[tuple[str, Section], ...]:
    """Every form with the word of its page, those of a lying tree first."""
    return tuple(_of_pages())


def _of_pages() -> Iterator[tuple[str, Section]]:
    for pages, stages in ((_LYING, STAGES), (standing_pages(), (*STANDING, FAILED))):
        words = {stage.name: stage.word for stage in stages}
        for name, sections in pages.items():
            yield from ((words[name], section) for section in sections())
