"""Text made fit for paper: one line, no control signs, no word too long to break."""

from __future__ import annotations

import re
import unicodedata
from typing import Any

LONGEST_WORD = 22
BREAK = "\u200b"  # a place where a line may end
_LONG = re.compile(rf"[^\s{BREAK}]{{{LONGEST_WORD + 1},}}")
PLAINLY = {  # places whose names say little by themselves
    "tree.stem": "taper of the stem",
    "tree.limb[*].foliage": "leaves on the limbs",
    "limits.share": "share of samples that must stay inside",
    "limits.floor": "rise of a load that is let pass",
    "limits.movement": "most a support may move",
    "handling.hand": "carried by hand",
    "handling.drop": "let fall free",
    "handling.drop_height": "height of a free fall",
    "handling.roll": "rolled off",
    "handling.line": "let down on a line",
    "day.wind_limit": "gusts that stop work",
}
_TABLE = re.compile(r"\[{1,2}([a-z_]+(?:\.[a-z_]+)*)\]{1,2}")
_PARTS = re.compile(r"[^./_\]\-]*[./_\]\-]+|[^./_\]\-]+")
_KEPT = frozenset("\u200c\u200d")  # joiners that some scripts spell with


def on_paper(text: str) -> str:
    """The text as one line without signs that steer the printer or turn the writing round, long words breakable."""
    kept = "".join(sign if _prints(sign) else " " if sign.isspace() else "" for sign in text)
    return _LONG.sub(lambda word: _broken(word[0]), " ".join(kept.split()))


def shortened(text: str, most: int) -> str:
    """The text cut off at a number of signs, with an ellipsis where something is missing."""
    line = on_paper(text)
    return line if len(line) <= most else line[: most - 1].rstrip() + "…"


def in_words(path: str) -> str:
    """A place of the job document for people: 'support["front wall"].stiffness' is "support front wall, stiffness"."""
    if path in PLAINLY:
        return PLAINLY[path]
    return path.replace('["', " ").replace('"]', "").replace("[*]", "").replace(".", ", ").replace("_", " ")


def without_tables(sentence: str) -> str:
    """A sentence that may name tables of the job file, for people who have none: "in [access]" is in “access”."""
    return _TABLE.sub(lambda found: f"“{in_words(found[1])}”", sentence)


def all_on_paper(data: Any, raw: frozenset[str] = frozenset({"svg"})) -> Any:
    """Every text in nested data made fit for paper, but for those under a key in `raw`."""
    if isinstance(data, str):
        return on_paper(data)
    if isinstance(data, dict):
        return {key: value if key in raw else all_on_paper(value, raw) for key, value in data.items()}
    if isinstance(data, list | tuple):
        return [all_on_paper(value, raw) for value in data]
    return data


def _prints(sign: str) -> bool:
    return sign in _KEPT or unicodedata.category(sign)[0] not in "CZ" or sign in " \u00a0"


def _broken(word: str) -> str:
    """Breaks after dots, strokes and brackets where there are any, else every few signs."""
    step = LONGEST_WORD // 2
    parts = [part[k : k + step] for part in _PARTS.findall(word) for k in range(0, len(part), step)]
    return BREAK.join(parts)
