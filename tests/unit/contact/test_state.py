"""States of a tree on its contacts: what is there, what it carries, how it moves, and gaps set from what was seen."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.references.contact_engine import NONE, push_up, solved, system_of, wood

from bolewright.core.base.range import Range
from bolewright.core.base.vectors import GRAVITY, UP
from bolewright.core.contact.actions import Actions
from bolewright.core.contact.flexibility import integrate
from bolewright.core.contact.gaps import settle_gaps
from bolewright.core.contact.samples import Spread, draw
from bolewright.core.contact.state import (
    System,
    mass_of,
    movement_of,
    new_system,
    reach,
    rise_of_contacts,
    solve_states,
    total_weight,
)
from bolewright.core.contact.supports import Contact, actions_of

MODULUS = 1e10
EI = 5e6
WEIGHT = 6000.0  # N on 6 m: 1 kN/m
ALONG = np.array([1.0, 0.0, 0.0])
BOTH, FIRST = np.ones(3, dtype=bool), np.array([True, True, False])


def contacts(give: float = 1e-7) -> list[Contact]:
    """Posts at 0, 3 and 5 m, and a couple against rolling."""
    roll = push_up(-1, NONE, 1e-8, low=-np.inf, force=NONE, couple=ALONG, normal=NONE, misfit=0.0)
    return [push_up(-1, NONE, give), push_up(0, [3, 0, 0], give), push_up(1, [5, 0, 0], give), roll]


def log(supports: list[Contact], gap: list[float] | None = None) -> System:
    """A level log of 6 m in three pieces 0-3, 3-5 and 5-6 m, with a probe up at each end."""
    x = np.array([0.0, 3.0, 5.0, 6.0])
    points = np.column_stack([x, np.zeros((4, 2))])
    assembly = wood(points[:-1], points[1:], [-1, 0, 1], [EI] * 3, [1e12] * 3, 1000.0 * np.diff(x), MODULUS)
    probes = Actions(
        segment=np.array([-1, 2]),
        fraction=np.ones(2),
        point=points[[0, 3]],
        force=np.stack([UP, UP]),
        couple=np.zeros((2, 3)),
    )
    gaps = [0.0] * len(supports) if gap is None else gap
    return system_of(assembly, supports, gaps, MODULUS, probes, np.arange(3))


def test_weight_is_that_of_the_pieces_kept() -> None:
    system = log(contacts())
    assert total_weight(system, BOTH)[0] == pytest.approx(WEIGHT)
    assert total_weight(system, FIRST)[0] == pytest.approx(5000.0)
    assert mass_of(system, FIRST)[0] == pytest.approx(5000.0 / GRAVITY)


def test_a_contact_goes_with_its_wood() -> None:
    """A post under a piece that is gone is not reached, nor one that was not set."""
    system, every = log(contacts()), np.ones(4, dtype=bool)
    assert reach(system, np.array([True, False, False]), every).tolist() == [True, True, False, True]
    assert reach(system, BOTH, np.array([True, True, False, True])).tolist() == [True, True, False, True]


def test_two_posts_by_the_lever() -> None:
    """Posts at 0 and 5 m, 6 kN in the middle at 3 m: 2.4 and 3.6 kN; without the last metre 2.5 and 2.5."""
    system, present = log(contacts()), np.array([True, False, True, True])
    whole, short = solve_states(system, [BOTH, FIRST], [present, present])
    assert whole.force[[0, 2], 0] == pytest.approx([2400.0, 3600.0], rel=1e-9)
    assert short.force[[0, 2], 0] == pytest.approx([2500.0, 2500.0], rel=1e-9)
    assert whole.force[1, 0] == 0.0


def test_states_together_are_states_apart() -> None:
    system = log(contacts())
    every = np.ones(4, dtype=bool)
    keeps, presents = [BOTH, FIRST, BOTH], [every, every, np.array([True, False, True, True])]
    together = solve_states(system, keeps, presents)
    for state, keep, present in zip(together, keeps, presents, strict=True):
        alone = solve_states(system, [keep], [present])[0]
        assert state.force == pytest.approx(alone.force, rel=1e-9, abs=1e-6)
        assert np.array_equal(state.held, alone.held)
        guessed = solve_states(system, [keep], [present], [state.marks])[0]
        assert guessed.force == pytest.approx(alone.force, rel=1e-9, abs=1e-6)


def test_nothing_left_is_held_by_nothing() -> None:
    """With no wood there is no weight: held, and no force."""
    state = solve_states(log(contacts()), [np.zeros(3, dtype=bool)], [np.ones(4, dtype=bool)])[0]
    assert not state.force.any()
    assert state.held.all()


def test_wood_with_no_post_under_it_is_not_held() -> None:
    state = solve_states(log(contacts()), [np.array([False, False, True])], [np.ones(4, dtype=bool)])[0]
    assert not state.held.any()


def test_supports_sink_by_force_times_give() -> None:
    """rise_of_contacts: minus give times force where touching (the gap of a misfit comes on top)."""
    system = log(contacts(give=1e-5), [0.0, 0.002, 0.0, 0.0])
    state = solved(system)
    expected = -1e-5 * state.force[:3, 0] - [0.0, 0.002, 0.0]
    assert state.force[1, 0] > 0.0
    assert rise_of_contacts(system, state)[:3, 0] == pytest.approx(expected, abs=1e-12)


def test_probes_tell_where_the_ends_go() -> None:
    """Posts at 0 and 5 m: the far end of the 1 m overhang rises by wa(L3 - 4 a2 L - 3 a3)/24EI (AISC Manual, Table
    3-23, overhanging beam) less what the posts sink by under 2.4 and 3.6 kN, drawn on in a straight line to 6 m."""
    system = log(contacts(give=1e-9))
    state = solve_states(system, [BOTH], [np.array([True, False, True, True])])[0]
    near, far = movement_of(system, state, slice(4, 6))[:, 0]
    w, span, a = 1000.0, 5.0, 1.0
    assert near == pytest.approx(-1e-9 * state.force[0, 0], abs=1e-10)
    bent = w * a * (span**3 - 4 * a**2 * span - 3 * a**3) / (24 * EI)
    sunk = 1e-9 * (2400.0 + (3600.0 - 2400.0) * 6.0 / 5.0)
    assert far == pytest.approx(bent - sunk, rel=1e-9)


def test_a_measured_gap_is_the_gap_of_the_loaded_shape() -> None:
    """A post 2 cm clear of the log as it lies now: after settle_gaps the state as found shows 2 cm in every sample,
    whatever the log's own sag, and a log that is lowered by 2 cm there touches it."""
    supports = contacts()
    supports[1] = replace(supports[1], gap=0.02, touching=False)
    system = sampled(supports, 32)
    touching = np.array([c.touching for c in supports])
    found = solve_states(system, [BOTH], [touching])[0]
    settled = settle_gaps(system, found)
    again = solve_states(settled, [BOTH], [touching])[0]
    assert again.force == pytest.approx(found.force, rel=1e-12, abs=1e-9)
    distance = movement_of(settled, again, slice(1, 2))[0] + settled.gap[1]
    assert distance == pytest.approx(np.full(32, 0.02), abs=1e-12)
    everything = solve_states(settled, [BOTH], [np.ones(4, dtype=bool)])[0]
    assert everything.force[1] == pytest.approx(np.zeros(32), abs=1e-9)
    assert everything.opening[1] == pytest.approx(np.full(32, 0.02), abs=1e-12)


def sampled(supports: list[Contact], count: int) -> System:
    """The same log with spread-out density, size, stiffness, give and misfit."""
    plain = log(supports)
    spread = Spread(*(Range(0.8, 1.0, 1.3) for _ in range(6)))
    samples = draw(spread, supports, count, np.random.default_rng(4))
    return new_system(supports, plain.integrals, samples, plain.scale)


def test_a_jacked_post_pushes_as_told() -> None:
    """Jacked to 1.5 kN against the log as found: it carries 1.5 kN in every sample at first, the others what the
    lever leaves; with the overhang gone it carries something else."""
    supports = contacts()
    supports[1] = replace(supports[1], touching=False, jacked=1500.0)
    system = sampled(supports, 16)
    found = solve_states(system, [BOTH], [np.array([True, False, True, True])])[0]
    settled = settle_gaps(system, found)
    every = np.ones(4, dtype=bool)
    now, later = solve_states(settled, [BOTH, FIRST], [every, every])
    assert now.force[1] == pytest.approx(np.full(16, 1500.0), rel=1e-6)
    lever = found.force[2] - 1500.0 * 3.0 / 5.0
    assert now.force[2] == pytest.approx(lever, rel=1e-6)
    assert np.all(np.abs(later.force[1] - 1500.0) > 1.0)


def test_misfit_is_kept_from_step_to_step() -> None:
    """A sample's misfit is part of its gap: the same before and after, so it cancels in the change."""
    system = sampled(contacts(), 16)
    assert system.gap == pytest.approx(system.samples.misfit)
    some = system.take(np.array([3, 9]))
    whole, part = solved(system), solved(some)
    assert part.force == pytest.approx(whole.force[:, [3, 9]], rel=1e-9, abs=1e-6)


def test_forces_do_not_depend_on_the_scale_of_the_moment_rows() -> None:
    system = log(contacts(), [0.0, 0.001, 0.0, 0.0])
    other = replace(system, scale=7.3 * system.scale)
    assert solved(other).force == pytest.approx(solved(system).force, rel=1e-7, abs=1e-5)


def test_a_system_takes_its_first_actions_for_contacts() -> None:
    supports = contacts()
    assembly = wood([[0, 0, 0]], [[6, 0, 0]], [-1], [EI], [1e12], [WEIGHT], MODULUS)
    plain = [supports[0], replace(supports[2], segment=0, point=np.array([6.0, 0.0, 0.0])), supports[3]]
    integrals = integrate(assembly, np.zeros(1, dtype=np.int64), 1, actions_of(plain), MODULUS, np.zeros(3))
    sure = Spread(*(Range.exact(1.0) for _ in range(6)))
    system = new_system(plain, integrals, draw(sure, plain, 1, np.random.default_rng(0)), 6.0)
    assert system.count == 3
    assert solve_states(system, [np.ones(1, dtype=bool)], [np.ones(3, dtype=bool)])[0].force[:2, 0] == pytest.approx(
        [3000.0, 3000.0], rel=1e-9
    )
