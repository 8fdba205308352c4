"""From a template and its data to a PDF: tagged, checked as PDF/UA-1, the same bytes for the same data and day."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import typst

ROOT = Path(__file__).resolve().parent
NO_SIGN = "▯"  # stands for a sign the fonts do not have
ROUNDS = 4
_EPOCH = datetime(2000, 1, 1, tzinfo=UTC)
_UNKNOWN_TEXT = re.compile(r'the text `"(.*?)"` could not be displayed')
_ESCAPE = re.compile(r"\\u\{([0-9a-f]+)\}")


@dataclass(frozen=True)
class Printed:
    """A document, what the typesetter complained of, and whether it passed the check for use with a screen reader."""

    pdf: bytes
    warnings: tuple[str, ...]
    accessible: bool


def print_document(template: str, data: Mapping[str, Any], day: date | None) -> Printed:
    """The document of a template (path below this folder) with its data, which never becomes markup.

    Signs none of the fonts has are shown as a box. Only fonts of the typesetter itself are used, so every machine
    prints the same. `day` is written as the day of making; without one a fixed day stands in.
    """
    text = json.dumps(data, ensure_ascii=False, allow_nan=False)
    for _ in range(ROUNDS):
        try:
            return _compiled(template, text, day, True)
        except typst.TypstError as fault:
            missing = _missing_signs(f"{fault.message}\n{fault.diagnostic}")
            if not missing:
                break
            text = text.translate(dict.fromkeys(map(ord, missing), NO_SIGN))
    return _compiled(template, text, day, False)


def print_pages(template: str, data: Mapping[str, Any], ppi: float = 88.0) -> list[bytes]:
    """The pages of the same document as PNG pictures."""
    text = json.dumps(data, ensure_ascii=False, allow_nan=False)
    pages = typst.compile(str(ROOT / template), root=str(ROOT), ignore_system_fonts=True, sys_inputs={"data": text},
                          format="png", ppi=ppi)  # fmt: skip
    return list(pages) if isinstance(pages, list) else [pages]


def _compiled(template: str, text: str, day: date | None, accessible: bool) -> Printed:
    made = datetime(day.year, day.month, day.day, tzinfo=UTC) if day else _EPOCH
    pdf, warnings = typst.compile_with_warnings(
        str(ROOT / template),
        root=str(ROOT),
        ignore_system_fonts=True,
        sys_inputs={"data": text},
        pdf_standards=["ua-1"] if accessible else [],
        timestamp=int(made.timestamp()),
    )
    return Printed(pdf, tuple(str(warning.message) for warning in warnings), accessible)


def _missing_signs(diagnostic: str) -> set[str]:
    """The signs the typesetter says it has no shape for."""
    found = "".join(_UNKNOWN_TEXT.findall(diagnostic))
    return set(_ESCAPE.sub(lambda code: chr(int(code[1], 16)), found)) - set('"\\{}')
