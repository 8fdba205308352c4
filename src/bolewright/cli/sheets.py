"""The drawings of a standing tree as named files ready to be written."""

from __future__ import annotations

from bolewright.cli import machine
from bolewright.drawings.standing_chart import fragility_chart
from bolewright.drawings.standing_fall import fall_circle
from bolewright.drawings.standing_section import section_from_above
from bolewright.drawings.units import Units
from bolewright.planning.standing.results import StandResult


def standing_sheets(title: str, result: StandResult, units: Units) -> dict[str, bytes]:
    """Every tested section from the ground up, the fragility chart, the fall circle, and the results."""
    tested = [section for section in result.sections if section.measured]
    drawn = {
        f"section-{n:02d}.svg": section_from_above(section, result.worst_towards_deg, units)
        for n, section in enumerate(tested, 1)
    }
    drawn |= {"fragility.svg": fragility_chart(result, units), "fall-circle.svg": fall_circle(result, title, units)}
    drawn["results.json"] = machine.dumps(machine.stand_answer(result))
    return {name: text.encode("utf-8") for name, text in drawn.items()}
