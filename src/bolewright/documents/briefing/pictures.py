"""The drawings of a briefing, made ready for white paper, with their words for those who cannot see them."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from html import unescape
from typing import Any

from bolewright.drawings import elevation, load_chart, plan_view, step_strip
from bolewright.drawings.ink import DAY
from bolewright.drawings.svg import number
from bolewright.drawings.type_widths import Box
from bolewright.drawings.units import Units
from bolewright.planning.results import HoldResult, Plan
from bolewright.planning.shapes import Scene

WHITE = "#ffffff"
_TITLE = re.compile(r"<title>(.*?)</title>", re.DOTALL)
_WINDOW = re.compile(r'viewBox="[^"]*" width="[^"]*" height="[^"]*"')
_TEXT = re.compile(r'<text [^>]*?x="(?P<x>[^"]*)" y="(?P<y>[^"]*)"[^>]*>[^<]*</text>')
_DESC = re.compile(r"<desc>(.*?)</desc>", re.DOTALL)


def picture(svg: str) -> dict[str, Any]:
    """A drawing on white in place of tinted paper, and its title and description as alternative text."""
    words = [unescape(found[1]) for pattern in (_TITLE, _DESC) if (found := pattern.search(svg))]
    return {"svg": svg.replace(DAY.paper, WHITE).replace(DAY.panel, WHITE), "alt": ". ".join(words)}


def cropped(shown: dict[str, Any], crop: Box) -> dict[str, Any]:
    """A part of a drawing with `shape`, its height over its width; words outside are taken out, not only hidden."""
    wide, high = crop.x1 - crop.x0, crop.y1 - crop.y0
    window = f'viewBox="{number(crop.x0)} {number(crop.y0)} {number(wide)} {number(high)}"'
    window += f' width="{number(wide)}" height="{number(high)}"'
    kept = _TEXT.sub(lambda found: found[0] if _inside(found, crop) else "", shown["svg"])
    return {**shown, "svg": _WINDOW.sub(window, kept, count=1), "shape": high / wide}


def _inside(found: re.Match[str], crop: Box) -> bool:
    x, y = float(found["x"]), float(found["y"])
    return crop.x0 <= x <= crop.x1 and crop.y0 <= y <= crop.y1


@dataclass(frozen=True)
class Pictures:
    """Drawings of one job; those drawn before, by the name of their file, are not drawn again."""

    scene: Scene
    hold: HoldResult
    units: Units
    drawn: Mapping[str, str] = field(default_factory=dict)

    def as_found(self) -> dict[str, Any]:
        """The elevation with the roles of the pieces, without cuts."""
        return picture(elevation(self.scene, self.hold, None, self.units))

    def numbered(self, plan: Plan) -> dict[str, Any]:
        """The elevation with numbered cuts."""
        return self._drawn("elevation.svg", lambda: elevation(self.scene, self.hold, plan, self.units))

    def from_above(self, plan: Plan | None) -> dict[str, Any]:
        """The view from above with drop zones."""
        return self._drawn("plan.svg", lambda: plan_view(self.scene, plan, None, self.hold, self.units))

    def chart(self, plan: Plan) -> dict[str, Any]:
        """Load on the building from step to step."""
        return self._drawn("load-chart.svg", lambda: load_chart(plan, self.units))

    def strip(self, plan: Plan, n: int) -> dict[str, Any]:
        """One step."""
        return self._drawn(f"step-{n:02d}.svg", lambda: step_strip(self.scene, plan, n, self.hold, self.units))

    def _drawn(self, name: str, draw: Callable[[], str]) -> dict[str, Any]:
        return picture(self.drawn.get(name) or draw())
