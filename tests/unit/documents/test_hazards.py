"""Which cautions a job calls for, and that each is printed once."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bolewright.core.base.range import Range
from bolewright.documents.briefing.hazards import cautions_used, hazard_groups
from bolewright.job.read import loads
from bolewright.planning.results import CutsResult, HoldResult, Plan
from bolewright.reference.cautions import cautions_for

ZERO = Range.exact(0.0)
HELD = HoldResult("held", (), (), ZERO, ZERO, None, None, (), 0.0, 16, (), ())
NOTHING = CutsResult("no plan", Plan("by hand", "no plan", (), (), ZERO, ZERO, 0.0, 0.0, (), ""), (), (), 16, 1, "")


def job(facts: str = "", attached: str = "free", more: str = ""):
    return loads(f'schema = 1\n[job]\ntitle = "T"\n{facts}\n[tree]\nspecies = "oak"\nattached = "{attached}"\n{more}')


def headings(found: list[dict]) -> list[str]:
    return [group["heading"] for group in found]


@pytest.mark.parametrize(
    ("facts", "attached", "heading", "place"),
    [
        ('utilities = [{kind = "power", state = "live"}]', "free", "Power", "power"),
        ('utilities = [{kind = "telephone"}]', "free", "Telephone", "power"),
        ('utilities = [{kind = "gas"}]', "free", "Gas", "gas"),
        ("", "hinge", "Fibre hinge", "stored energy"),
        ("people_out = false", "free", "People", "people"),
    ],
)
def test_hazard_brings_its_cautions(facts: str, attached: str, heading: str, place: str) -> None:
    """The heading is there with every caution of its place."""
    group = next(g for g in hazard_groups(job(facts, attached), HELD, NOTHING) if g["heading"] == heading)
    assert set(group["texts"]) == {caution.text for caution in cautions_for(place)}


def test_line_said_off_by_the_utility_is_named_without_cautions() -> None:
    """It stays on the list as entered; the cautions for live lines are not printed for it."""
    groups = hazard_groups(job('utilities = [{kind = "gas", state = "off"}]'), HELD, NOTHING)
    group = next(g for g in groups if g["heading"] == "Gas")
    assert group["facts"].startswith("off, as entered")
    assert group["texts"] == []


@pytest.mark.parametrize(
    ("status", "place"), [("can roll", "roll"), ("can slide", "sliding"), ("not held", "stored energy")]
)
def test_what_the_tree_can_do_is_a_hazard(status: str, place: str) -> None:
    """The status as found brings its cautions."""
    groups = hazard_groups(job(), replace(HELD, status=status), NOTHING)
    texts = {text for group in groups for text in group["texts"]}
    assert "The tree as found" in headings(groups)
    assert {caution.text for caution in cautions_for(place)} <= texts


def test_each_caution_once_and_all_sourced() -> None:
    """No caution twice, and each that is printed is in the list of sources."""
    found = job('utilities = [{kind = "power"}, {kind = "water"}]\npeople_out = false', "hinge")
    texts = [text for group in hazard_groups(found, HELD, NOTHING) for text in group["texts"]]
    assert len(texts) == len(set(texts))
    assert set(texts) <= {caution.text for caution in cautions_used(found, HELD, NOTHING)}
