"""The drawings of the way out as named files ready to be written."""

from __future__ import annotations

from bolewright import planning
from bolewright.core.base.errors import BolewrightError
from bolewright.drawings.day_chart import day_chart
from bolewright.drawings.units import Units
from bolewright.drawings.way_out import way_out
from bolewright.job.model import Job
from bolewright.planning import machine
from bolewright.planning.haul.daywork import DayPlan
from bolewright.planning.haul.price import Price, Way
from bolewright.planning.haul.results import OutResult
from bolewright.planning.results import CutsResult
from bolewright.planning.scene import geometry
from bolewright.planning.shapes import Scene


def out_sheets(
    job: Job, cut: CutsResult | None, result: OutResult, price: Price | None, ways: tuple[Way, ...], day: DayPlan,
    units: Units,
) -> dict[str, bytes]:  # fmt: skip
    """The way out on the site plan, the day as bars, and the results."""
    drawn = {"way-out.svg": way_out(_scene(job, cut), result, units), "day.svg": day_chart(job.job.title, day, result)}
    drawn["out.json"] = machine.dumps(machine.out_answer(result, price, ways, day))
    return {name: text.encode("utf-8") for name, text in drawn.items()}


def _scene(job: Job, cut: CutsResult | None) -> Scene:
    """The place with the tree as it rests, or as far as its shape is known."""
    try:
        return planning.scene(job, cut)
    except BolewrightError:
        return geometry(job)
