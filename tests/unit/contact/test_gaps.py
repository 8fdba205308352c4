"""Several supports jacked against one tree: each shows its own force, and what follows is what beam tables say."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.references.contact_engine import NONE, push_up, system_of, wood

from bolewright.core.base.range import Range
from bolewright.core.contact.gaps import set_together, settle_gaps
from bolewright.core.contact.samples import Spread, draw
from bolewright.core.contact.state import System, new_system, solve_states
from bolewright.core.contact.supports import Contact

MODULUS, EI = 1e10, 5e6
GIVE, SPAN = 1e-6, 5.0  # m/N of every support, m between the posts at 0 and 5 m
JACKS = {1: (2.0, 800.0), 2: (4.0, 1500.0)}  # contact: m from the butt, N
ROWS = np.array(list(JACKS))
EVERY, TOUCHING = np.ones(5, dtype=bool), np.array([True, False, False, True, True])
BOTH, FIRST = np.ones(2, dtype=bool), np.array([True, False])


def supports(factor: float = 1.0) -> list[Contact]:
    """Posts at 0 and 5 m, two jacks between them, and a couple against rolling."""
    jacks = [
        push_up(i - 1, [at, 0, 0], GIVE, id=f"jack {i}", touching=False, misfit=0.0, jacked=factor * force)
        for i, (at, force) in JACKS.items()
    ]
    along = np.array([1.0, 0.0, 0.0])
    roll = push_up(-1, NONE, 1e-8, low=-np.inf, force=NONE, couple=along, normal=NONE, misfit=0.0)
    return [push_up(-1, NONE, GIVE), *jacks, push_up(2, [5, 0, 0], GIVE), roll]


def log(contacts: list[Contact]) -> System:
    """A level log of 6 m, 1 kN/m; the last metre is a piece of its own."""
    x = np.array([0.0, 2.0, 4.0, 5.0, 6.0])
    points = np.column_stack([x, np.zeros((5, 2))])
    assembly = wood(points[:-1], points[1:], [-1, 0, 1, 2], [EI] * 4, [1e12] * 4, 1000.0 * np.diff(x), MODULUS)
    return system_of(assembly, contacts, [0.0] * 5, MODULUS, None, np.array([0, 0, 0, 1]))


def sampled(contacts: list[Contact]) -> System:
    """The same with spread-out density, size, stiffness, give and misfit."""
    plain, spread = log(contacts), Spread(*(Range(0.8, 1.0, 1.3) for _ in range(6)))
    return new_system(contacts, plain.integrals, draw(spread, contacts, 16, np.random.default_rng(4)), plain.scale)


def jacked(system: System) -> System:
    found = solve_states(system, [BOTH], [TOUCHING])[0]
    together, held = set_together(system, found, ROWS)
    assert held.all()
    return together


def test_each_jack_shows_its_force_and_the_posts_what_the_lever_leaves() -> None:
    """Statics: a push F at x takes F x / 5 off the post at 5 m and the rest off the one at the butt, in every sample,
    whatever wood and supports give."""
    system = sampled(supports())
    found = solve_states(system, [BOTH], [TOUCHING])[0]
    now = solve_states(jacked(system), [BOTH], [EVERY])[0]
    for i, (_, force) in JACKS.items():
        assert now.force[i] == pytest.approx(np.full(16, force), rel=1e-9)
    off = sum(force * at / SPAN for at, force in JACKS.values())
    assert found.force[3] - now.force[3] == pytest.approx(np.full(16, off), rel=1e-9)
    total = sum(force for _, force in JACKS.values())
    assert found.force[0] - now.force[0] == pytest.approx(np.full(16, total - off), rel=1e-9)


def test_by_themselves_they_would_show_less() -> None:
    """Set one by one with the other away, and then both left in place: each has taken up what the other should push."""
    system = log(supports())
    found = solve_states(system, [BOTH], [TOUCHING])[0]
    now = solve_states(settle_gaps(system, found), [BOTH], [EVERY])[0]
    assert all(now.force[i, 0] < 0.95 * force for i, (_, force) in JACKS.items())


def test_after_a_cut_they_take_up_what_the_beam_tables_say() -> None:
    """The last metre off, 1 kN at 5.5 m. By the force method with the two jacks as unknowns: deflection at x of a span
    under a unit force at a (b = 5 - a, x <= a) is b x (25 - b2 - x2) / (30 EI), under an end moment M x (25 - x2) / (30
    EI) (Young & Budynas, Roark's Formulas for Stress and Strain, 7th ed. 2002, table 8.1 cases 1e and 3e); the posts
    give by their share of the load."""
    at = np.array([x for x, _ in JACKS.values()])
    left, right = (1.0 - at / SPAN, at / SPAN)
    unit = np.array([[_span(min(x, a), max(x, a)) for a in at] for x in at])
    unit += GIVE * (np.outer(left, left) + np.outer(right, right))
    moment = 1000.0 * 0.5
    rise = -moment * at * (SPAN**2 - at**2) / (6.0 * SPAN * EI) + GIVE * (1100.0 * right - 100.0 * left)
    change = np.linalg.solve(unit + GIVE * np.eye(2), -rise)
    now, later = solve_states(jacked(log(supports())), [BOTH, FIRST], [EVERY, EVERY])
    assert (later.force - now.force)[ROWS, 0] == pytest.approx(change, rel=1e-6)


def _span(x: float, a: float) -> float:
    b = SPAN - a
    return b * x * (SPAN**2 - b**2 - x**2) / (6.0 * SPAN * EI)


def test_a_change_does_not_depend_on_how_hard_they_are_jacked() -> None:
    """Superposition: where nothing opens, a fifth harder makes no difference to what a cut changes."""
    changes, carry = [], np.ones(16, dtype=bool)
    for factor in (1.0, 1.2):
        now, later = solve_states(jacked(sampled(supports(factor))), [BOTH, FIRST], [EVERY, EVERY])
        changes.append((later.force - now.force)[:4])
        carry &= ((now.force[:4] > 0.0) & (later.force[:4] > 0.0)).all(axis=0)
    assert carry.sum() > 4
    assert changes[0][:, carry] == pytest.approx(changes[1][:, carry], rel=1e-6, abs=1e-3)


def test_jacks_that_lift_the_log_off_are_told() -> None:
    """Twice its weight under a log of 6 kN: no sample lies still."""
    hard = [replace(c, jacked=12_000.0) if c.jacked else c for c in supports()]
    system = log(hard)
    found = solve_states(system, [BOTH], [TOUCHING])[0]
    assert not set_together(system, found, ROWS)[1].any()
