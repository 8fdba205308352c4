"""TOML or JSON text to plain tables, with the line of a slip of the pen."""

from __future__ import annotations

import json
import re
import tomllib
from collections import Counter
from typing import Any

from bolewright.job.faults import JobFaults, shown
from bolewright.job.guards import refused

_LINE = re.compile(r"\(at line (\d+), column \d+\)|\(at end of document\)")
_QUOTES = 'a value with a unit stands in quotes, as in diameter = "46 in" (write in, not the inch mark)'
# The TOML reader takes hours over a name with thousands of points.
_LONG_NAME = re.compile(r"""(?<![\w-])(?:(?:"[^"\n]*+"|'[^'\n]*+'|[\w-]++)[ \t]*+\.[ \t]*+){20}""")
_REASONS = (
    ("Cannot overwrite", "the same name is written twice in one table, or a value stands where a table is meant"),
    ("Cannot declare", "this heading was used before: lists such as limbs take two square brackets, [[tree.limb]]"),
    ("Cannot mutate", "this table was closed before: keep the fields of one table together"),
    ("Duplicate inline", "the same name is written twice between { and }"),
    ("Illegal character", "a text is not closed with a quote, or has a character in it that cannot be used"),
    ("Unterminated", "a text is not closed with a quote"),
    ("Unescaped", "a backslash in a text is written twice, as in \\\\"),
    ("Expected '='", "a field is written name = value"),
    ("Expected ']", "a heading is closed with the same square brackets it was opened with"),
    ("Unclosed", "a bracket [ or { is not closed"),
)


def tables_of(text: str) -> dict[str, Any]:
    """The tables of a job text: JSON when it starts with "{", TOML otherwise. Raises JobFaults."""
    if not text.strip():
        raise refused("The file is empty: a job starts with schema = 1 and has the tables [job] and [tree].")
    try:
        return _json(text) if text.lstrip().startswith("{") else _toml(text)
    except RecursionError:
        raise refused("Brackets are nested too deeply in this file to be a job.") from None


def _toml(text: str) -> dict[str, Any]:
    long = _LONG_NAME.search(text)
    if long:
        raise refused(f"Line {text.count(chr(10), 0, long.start()) + 1} has a name with too many points in it.")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _slip("TOML", *_where(str(error), text)) from None
    except ValueError:  # a number with thousands of digits
        raise refused("A number in this file is too long to be read.") from None


def _where(message: str, text: str) -> tuple[int, str, str]:
    """Line number, that line, and the reason in words, out of the reader's message."""
    lines = text.splitlines() or [""]
    found = _LINE.search(message)
    number = int(found[1]) if found and found[1] else len(lines)
    number = min(number, len(lines))
    reason = next((words for start, words in _REASONS if message.startswith(start)), _QUOTES)
    return number, lines[number - 1], reason


def _slip(language: str, number: int, line: str, reason: str) -> JobFaults:
    return refused(f"Line {number} cannot be read as {language}: {shown(line.strip())}; {reason}.")


def _json(text: str) -> dict[str, Any]:
    twice: list[str] = []

    def pairs(items: list[tuple[str, Any]]) -> dict[str, Any]:
        read = dict(items)
        if len(read) < len(items):
            twice.extend(name for name, times in Counter(name for name, _ in items).items() if times > 1)
        return read

    try:
        raw = json.loads(text, object_pairs_hook=pairs)
    except json.JSONDecodeError as error:
        lines = text.splitlines() or [""]
        line = lines[min(error.lineno, len(lines)) - 1]
        raise _slip("JSON", error.lineno, line, "names and texts stand in double quotes, with commas between") from None
    except ValueError:
        raise refused("A number in this file is too long to be read.") from None
    if twice:
        raise refused(f"{shown(twice[0])} is written twice in one table: keep one of them.")
    if not isinstance(raw, dict):
        raise refused('A job in JSON is one object: { "schema": 1, "job": ..., "tree": ... }.')
    return raw
