"""What a hand felt picks among the ways the tree may have come to rest."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.references.contact_engine import NONE, push_up
from tests.unit.planning.invented import PER_METRE, job, log, post, saddle

from bolewright.core.base.errors import NotEnoughKnown
from bolewright.core.contact.state import State
from bolewright.core.contact.supports import Contact
from bolewright.planning import hold
from bolewright.planning.holding.feel import EDGES, felt
from bolewright.planning.holding.readings import picked

COUNT = 1000
WEIGHT = 10_000.0


def found(share: np.ndarray, held: np.ndarray | None = None) -> State:
    """A state in which the first support carries these shares of the weight and the second the rest; a third unknown
    is a couple of many newton metres."""
    force = np.stack([share * WEIGHT, (1.0 - share) * WEIGHT, np.full(len(share), 50_000.0)])
    none = np.zeros_like(force)
    kept = np.ones(len(share), dtype=bool) if held is None else held
    return State(
        keep=np.ones(1, dtype=bool),
        present=np.ones(3, dtype=bool),
        force=force,
        opening=none,
        movement=none,
        held=kept,
        residual=none[0],
        marks=none.astype(np.int8),
    )


def contacts(feel: str, other: str = "") -> list[Contact]:
    couple = push_up(-1, NONE, 1e-6, id="roll", force=NONE, couple=np.array([1.0, 0, 0]), normal=NONE)
    return [push_up(0, NONE, 1e-6, id="a", feel=feel), push_up(0, NONE, 1e-6, id="b", feel=other), couple]


def condition(some: list[Contact], state: State, wanted: int, rng: np.random.Generator) -> np.ndarray:
    """Numbers of the samples picked by feel alone."""
    return picked([], felt(some, state), wanted, rng)


EVENLY = np.linspace(0.0, 0.5, COUNT)


@pytest.mark.parametrize("feel", ["loose", "snug", "hard"])
def test_picked_samples_lie_in_the_band_that_was_felt(feel: str) -> None:
    """Of loads spread from nothing to half the weight, nine in ten of those picked are inside the band of that feel
    or within a factor e of its edge (two standard deviations of a hand's error)."""
    pick = condition(contacts(feel), found(EVENLY), 400, np.random.default_rng(1))
    share = EVENLY[pick]
    low, high = EDGES[feel]
    assert len(pick) == 400
    assert np.mean((share >= low / np.e) & (share <= high * np.e)) > 0.9


def test_harder_felt_is_harder_loaded() -> None:
    medians = [
        np.median(EVENLY[condition(contacts(feel), found(EVENLY), 400, np.random.default_rng(1))])
        for feel in ("loose", "snug", "hard")
    ]
    assert medians[0] < medians[1] < medians[2]


def test_inside_the_band_all_are_alike() -> None:
    """Resampling in proportion: samples well inside a band are picked equally often, give or take one."""
    pick = condition(contacts("hard"), found(np.linspace(0.1, 0.5, COUNT)), 3 * COUNT, np.random.default_rng(1))
    assert set(np.bincount(pick, minlength=COUNT).tolist()) == {3}


def test_samples_that_are_not_held_are_never_picked() -> None:
    held = np.arange(COUNT) % 2 == 0
    pick = condition(contacts("snug"), found(EVENLY, held), 300, np.random.default_rng(1))
    assert held[pick].all()


def test_feel_that_fits_nothing_is_said() -> None:
    """Both supports felt loose: the weight must be somewhere."""
    with pytest.raises(NotEnoughKnown, match="does not fit"):
        condition(contacts("loose", "loose"), found(EVENLY), 100, np.random.default_rng(1))


def test_the_same_pick_every_time() -> None:
    first, second = (condition(contacts("snug"), found(EVENLY), 200, np.random.default_rng(5)) for _ in range(2))
    assert np.array_equal(first, second)


def test_a_share_is_of_the_weight_not_of_couples() -> None:
    """A hinge's or holder's couple in newton metres is no part of the weight that a hand judges by."""
    plain = found(EVENLY)
    heavy = replace(plain, force=plain.force * np.array([[1.0], [1.0], [1e3]]))
    picks = [condition(contacts("hard"), s, 400, np.random.default_rng(2)) for s in (plain, heavy)]
    assert np.array_equal(*picks)


def test_a_felt_support_narrows_the_forces() -> None:
    """A log on three posts: the middle one could carry from nothing to most. Felt loose, it carries under 3 %, and
    the others share by the lever; felt hard, over 2 %."""
    supports = [
        saddle("near", 1.0, "ground"),
        post("middle", 5.0, "ground", stiffness="2 kN/mm"),
        saddle("far", 9.0, "wall"),
    ]

    def middle(feel: str | None) -> tuple[float, float]:
        told = [dict(s) for s in supports]
        if feel:
            told[1]["feel"] = feel
        band = {s.id: s.force_N for s in hold(job(log(told))).supports}["middle"]
        return band.low / (10 * PER_METRE), band.high / (10 * PER_METRE)

    unknown, loose, hard = middle(None), middle("loose"), middle("hard")
    assert unknown[0] < 0.01
    assert unknown[1] > 0.2
    assert loose[1] < 0.03
    assert hard[0] > 0.02
