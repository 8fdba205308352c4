"""Writes a job as TOML, every value as it was typed and nothing that was not given."""

from __future__ import annotations

import json
import re
from typing import Any

from bolewright.job.model import Job

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_WITH_HEADINGS = ("", "tree")  # tables in which a table gets a heading of its own; elsewhere it is written in { }


def dump(job: Job) -> str:
    """The job as TOML text. Reading it again gives the same job; comments of the file it came from are not kept."""
    return dump_tables(job.model_dump(by_alias=True, exclude_unset=True, exclude_none=True))


def dump_tables(tables: dict[str, Any]) -> str:
    """Plain tables as TOML text, whether or not they make a job yet; None cannot be written and must not be there."""
    return "\n\n".join(_section("", "", tables)) + "\n"


def _section(path: str, heading: str, table: dict[str, Any]) -> list[str]:
    """A table with its heading, then the tables inside it, each as one block of text."""
    lines = [heading] if heading else []
    inner: list[str] = []
    for key, value in table.items():
        here = f"{path}.{_key(key)}" if path else _key(key)
        if path in _WITH_HEADINGS and isinstance(value, dict):
            inner += _section(here, f"[{here}]", value)
        elif path in _WITH_HEADINGS and _tables(value):
            for item in value:
                inner += _section(here, f"[[{here}]]", item)
        else:
            lines.append(f"{_key(key)} = {_value(value)}")
    return (["\n".join(lines)] if lines else []) + inner


def _tables(value: Any) -> bool:
    return isinstance(value, tuple | list) and len(value) > 0 and all(isinstance(item, dict) for item in value)


def _key(key: str) -> str:
    return key if _BARE.fullmatch(key) else _text(key)


def _text(text: str) -> str:
    """A TOML basic string; JSON escapes everything TOML wants escaped but the delete character."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return f"{value:.0f}" if value.is_integer() else repr(value)
    if isinstance(value, int):
        return str(value)
    if isinstance(value, dict):
        inside = ", ".join(f"{_key(key)} = {_value(item)}" for key, item in value.items())
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, tuple | list):
        return f"[{', '.join(_value(item) for item in value)}]"
    return _text(str(value))
