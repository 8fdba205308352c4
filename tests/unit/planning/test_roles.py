"""What each piece does for the tree, on a log that the lever explains."""

from __future__ import annotations

import pytest
from tests.unit.planning.invented import PER_METRE, Tables, job, log, saddle

from bolewright.planning import hold
from bolewright.planning.results import PieceRole

NEAR, FAR = 1.0, 6.0  # posts of the log; from 6.5 m on it overhangs


def roles(building_is: str, limbs: list[Tables] | None = None, cuts: list[float] | None = None) -> dict[str, PieceRole]:
    """Roles by piece with the building under the near or the far post."""
    near, far = ("wall", "ground") if building_is == "near" else ("ground", "wall")
    tables = log([saddle("near", NEAR, near), saddle("far", FAR, far)], cuts or [6.5], limbs)
    return {p.id: p for p in hold(job(tables)).pieces}


def test_an_overhang_is_the_counterweight_of_the_far_post() -> None:
    """The last 3.5 m (middle at 8.25 m) lift the near post by w 3.5 (8.25 - 6) / 5: without them the wall there gets
    that much more. Tolerance 1 %: medians over 128 samples of density and size."""
    piece = roles("near")["S2"]
    assert piece.role == "counterweight"
    assert piece.building_change_N.likely == pytest.approx(PER_METRE * 3.5 * (8.25 - FAR) / (FAR - NEAR), rel=0.01)


def test_an_overhang_is_the_ballast_of_the_post_it_leans_on() -> None:
    """With the wall under the near end of the overhang, its loss takes w 3.5 (8.25 - 1) / 5 off the wall."""
    piece = roles("far")["S2"]
    assert piece.role == "ballast"
    assert piece.building_change_N.likely == pytest.approx(-PER_METRE * 3.5 * (8.25 - NEAR) / (FAR - NEAR), rel=0.01)


def test_a_limb_straight_over_the_ground_post_is_idle() -> None:
    """A limb that stands straight up over the far post, on the ground: the wall knows nothing of it."""
    limb = {"id": "L1", "at": f"{FAR} m", "clock": 12, "angle": "90 deg", "length": "2 m", "diameter": "0.1 m"}
    piece = roles("near", [{**limb, "foliage": "none"}])["L1"]
    assert piece.role == "idle"
    assert piece.building_change_N.likely == pytest.approx(0.0, abs=1.0)


def test_a_piece_whose_support_carries_is_a_prop() -> None:
    """A cut between the posts: the far piece stands on its own post, and what it carries is said."""
    piece = roles("near", None, [4.0])["S2"]
    assert piece.role == "prop"
    share = (5.0 - NEAR) / (FAR - NEAR)  # of a log whose middle is at 5 m
    assert f"{100 * share:.0f} %" in piece.why or "not held" in piece.why


def test_a_limb_on_the_lawn_props_the_stem() -> None:
    """A stem on one post and two limbs: without a limb that stands on the lawn the rest is not held."""
    limbs = [
        {"id": f"L{i}", "at": "7 m", "clock": clock, "angle": "90 deg", "length": "1.6 m", "diameter": "0.15 m"}
        for i, clock in ((1, 4.5), (2, 7.5))
    ]
    supports = [
        saddle("wall", NEAR, "wall"),
        *({"id": f"{i} down", "member": f"L{i}", "at": "1.6 m", "on": "ground"} for i in (1, 2)),
    ]
    pieces = {p.id: p for p in hold(job(log(supports, [8.5], limbs))).pieces}
    assert pieces["L1"].role == "prop"
    assert pieces["L2"].role == "prop"
