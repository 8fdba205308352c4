"""What the job document fills in, in the units of the sheet it prints on (NIST SP 811, Appendix B: exact factors)."""

from __future__ import annotations

import re

import pytest
from tests.unit.planning.out_jobs import BOARDS, DOLLY, LEG, LOG

from bolewright.job.model import Job
from bolewright.job.read import loads
from bolewright.planning.filled import as_set, as_set_in_both, job_defaults
from bolewright.planning.haul.filled import filled_out

US = r"\d ?(?:in|ft|lb|lbf|mph|psi|psf|lb/in|lb/ft2|lb/ft3)\b"
METRIC = r"\d ?(?:mm|cm|m|kg|kN|N/mm|kPa|MPa|m/s|kg/m3)\b"
CRANE = '[crane]\nradius = "15 ft"\nchart = "radius_ft,capacity_lb\\n10,9000\\n20,5000"\n'
KILOGRAMS, METRES, METRES_PER_SECOND = 0.45359237, 0.3048, 0.44704  # in a pound, a foot, a mile an hour


@pytest.fixture(scope="module")
def bare() -> Job:
    """A job that leaves everything to the document."""
    return loads(LOG + LEG + DOLLY + BOARDS + CRANE + "[limits]\nfloor = '10 %'\n")


def test_every_default_is_said_in_the_units_of_the_sheet(bare: Job) -> None:
    """No pounds on a metric sheet, no kilograms on the other; what was written is not among them."""
    rows = [*job_defaults(bare), *filled_out(bare, bare.machine[0])]
    assert {"handling.hand", "limits.movement", "crane.hook", "day.wind_limit", "rates.cut"} <= {r.path for r in rows}
    assert "limits.floor" not in {r.path for r in rows}
    for row in rows:
        assert not re.search(METRIC, row.said("us")), row
        assert not re.search(US, row.said("metric")), row


@pytest.mark.parametrize(
    ("path", "us", "metric"),
    [
        ("handling.hand", "80 lb", f"{80 * KILOGRAMS:.0f} kg"),
        ("handling.drop", "500 lb", f"{500 * KILOGRAMS:.0f} kg"),
        ("handling.drop_height", "10 ft", f"{10 * METRES:.2f} m"),
        ("limits.movement", "2 in", f"{200 / 12 * METRES:.0f} cm"),
        ("day.wind_limit", "25 mph", f"{25 * METRES_PER_SECOND:.0f} m/s"),
        ("limits.share", "90 %", "90 %"),
    ],
)
def test_limits_nobody_set(bare: Job, path: str, us: str, metric: str) -> None:
    """Each default by its exact factor; a sentence for both sheets says both."""
    assert (as_set(bare, "us", path), as_set(bare, "metric", path)) == (us, metric)
    assert as_set_in_both(bare, path) == (us if us == metric else f"{us} ({metric})")


def test_limits_that_were_set_stand_as_written() -> None:
    """On either sheet."""
    job = loads(LOG + "[limits]\nmovement = '35 mm'\n")
    assert as_set(job, "us", "limits.movement") == as_set_in_both(job, "limits.movement") == "35 mm"
