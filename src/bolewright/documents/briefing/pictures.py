"""Drawings made ready for white paper, with their words for those who cannot see them."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

from bolewright.drawings.ink import DAY

WHITE = "#ffffff"
_TITLE = re.compile(r"<title>(.*?)</title>", re.DOTALL)
_DESC = re.compile(r"<desc>(.*?)</desc>", re.DOTALL)


def picture(svg: str) -> dict[str, Any]:
    """A drawing on white in place of tinted paper, and its title and description as alternative text."""
    words = [unescape(found[1]) for pattern in (_TITLE, _DESC) if (found := pattern.search(svg))]
    return {"svg": svg.replace(DAY.paper, WHITE).replace(DAY.panel, WHITE), "alt": ". ".join(words)}
