"""Drawings of a standing tree made ready for white paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from bolewright.documents.briefing.pictures import picture
from bolewright.drawings.standing_chart import fragility_chart
from bolewright.drawings.standing_fall import fall_circle
from bolewright.drawings.standing_section import section_from_above
from bolewright.drawings.standing_trace import resistance_trace
from bolewright.drawings.units import Units
from bolewright.planning.standing.results import StandResult


@dataclass(frozen=True)
class StandPictures:
    """Drawings of one result; those drawn before, by the name of their file, are not drawn again."""

    result: StandResult
    units: Units
    drawn: Mapping[str, str] = field(default_factory=dict)

    def sections(self) -> list[dict[str, Any]]:
        """Every tested section, from the ground up."""
        tested = [section for section in self.result.sections if section.measured]
        worst = self.result.worst_towards_deg
        return [
            picture(self.drawn.get(f"section-{n:02d}.svg") or section_from_above(section, worst, self.units))
            for n, section in enumerate(tested, 1)
        ]

    def traces(self) -> list[dict[str, Any]]:
        """Every drilling-resistance trace, in the order of the tests."""
        tests = [test for test in self.result.tests if test.trace is not None]
        return [
            picture(self.drawn.get(f"trace-{n:02d}.svg") or resistance_trace(test, self.units))
            for n, test in enumerate(tests, 1)
        ]

    def chart(self) -> dict[str, Any]:
        """The share of samples that fails, gust by gust."""
        return picture(self.drawn.get("fragility.svg") or fragility_chart(self.result, self.units))

    def fall(self) -> dict[str, Any]:
        """The fall circle with sectors and targets."""
        return picture(fall_circle(self.result, "", self.units))
