"""States: what the contacts carry with some pieces gone and some supports in place, for all samples at once.

Load sharing uses vertical reactions: the sum of the vertical forces and the two overturning moments, three equations
that hold for any friction. On a pitched roof, roughness, notches and bark provide what the tilt of the surface does
not; the full problem with friction (full.py) is solved beside it for the state as found and each step of a plan.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.vectors import GRAVITY
from bolewright.core.contact.actions import Array
from bolewright.core.contact.flexibility import Integrals
from bolewright.core.contact.holdable import holdable
from bolewright.core.contact.kernel import marks_of, solve_contacts
from bolewright.core.contact.samples import Samples
from bolewright.core.contact.supports import Contact
from bolewright.core.contact.trial import Marks, Problem

SIDE_BY_SIDE = 4096  # columns from which two threads pay
VERTICAL = np.array([2, 3, 4])  # rows of a wrench: Fz, Mx, My
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class System:
    """A tree on its contacts. The first n actions of the integrals are the contacts.

    gap (n, B) [m]: distance in the unloaded shape of each sample, set so that the state as found shows the measured
    distances. scale [m]: a length that makes the moment rows comparable with the force row.
    """

    contacts: tuple[Contact, ...]
    integrals: Integrals
    samples: Samples
    gap: Array
    scale: float

    @property
    def count(self) -> int:
        return len(self.contacts)

    def rows(self, actions: slice | NDArray[np.int64]) -> Array:
        """(3, k) vertical-problem columns of some actions."""
        columns = self.integrals.wrench[VERTICAL][:, actions].copy()
        columns[1:] /= self.scale
        return np.asarray(columns)

    def take(self, index: NDArray[np.int64]) -> System:
        """The same tree with fewer samples."""
        return replace(self, samples=self.samples.take(index), gap=self.gap[:, index])


@dataclass(frozen=True)
class State:
    """One solved state. keep (P,) pieces on; present (n,) contacts in place; force (n, B) [N]; movement (3, B):
    rise at the origin [m] and turn about x and y times `scale` [m]; opening (n, B) [m] of every contact, present or
    not; held (B,); residual (B,)."""

    keep: Bools
    present: Bools
    force: Array
    opening: Array
    movement: Array
    held: Bools
    residual: Array
    marks: Marks


def new_system(contacts: list[Contact], integrals: Integrals, samples: Samples, scale: float) -> System:
    """A system whose touching contacts touch (with each sample's misfit) and whose others are out of the way.

    Parameters: scale [m], see System.
    Source: house rule.
    Checked by: tests/unit/contact/test_state.py
    """
    gap = samples.misfit.copy()
    return System(tuple(contacts), integrals, samples, gap, scale)


def reach(system: System, keep: Bools, present: Bools) -> Bools:
    """(n,) contacts in place whose wood is still there.

    Source: house rule.
    Checked by: tests/unit/contact/test_state.py
    """
    return present & keep[system.integrals.action_piece[: system.count]]


def solve_states(
    system: System, keeps: list[Bools], presents: list[Bools], start: list[Marks] | None = None
) -> list[State]:
    """The states with these pieces and contacts, all samples of all states in one run.

    keeps, presents: T of each. start: first guesses (n, B) of the contact sets.
    Source: force method (Timoshenko & Young 1965); minimum of complementary energy with one-sided contacts.
    Checked by: tests/handbook/test_beams_contact.py, tests/references/test_frames.py.
    """
    batch = len(system.samples)
    here = np.array([reach(system, keep, present) for keep, present in zip(keeps, presents, strict=True)])
    problem = _problem(system, np.array(keeps), here)
    first = None if start is None else np.concatenate(start, axis=1)
    threads = 2 if problem.count >= SIDE_BY_SIDE else 1
    answer = solve_contacts(problem, first, _can_rest(system, problem, here), threads)
    marks = marks_of(answer, problem.low, problem.high)
    return [
        State(
            keep=keep,
            present=present,
            force=answer.force[:, t * batch : (t + 1) * batch],
            opening=answer.opening[:, t * batch : (t + 1) * batch],
            movement=answer.movement[:, t * batch : (t + 1) * batch],
            held=answer.held[t * batch : (t + 1) * batch],
            residual=answer.residual[t * batch : (t + 1) * batch],
            marks=marks[:, t * batch : (t + 1) * batch],
        )
        for t, (keep, present) in enumerate(zip(keeps, presents, strict=True))
    ]


def _problem(system: System, keeps: Bools, here: Bools) -> Problem:
    """The contact problems of T states, all samples of each in turn. keeps (T, P), here (T, n)."""
    n, states, batch = system.count, len(keeps), len(system.samples)
    table, samples, on = system.integrals, system.samples, keeps.astype(float)
    flex = (on @ table.flex[:, :n, :n].reshape(on.shape[1], -1)).reshape(states, n, n)
    both = (on[:, :, None] * on[:, None, :]).reshape(states, -1)
    sag = (both @ table.sag[..., :n].reshape(both.shape[1], -1)).reshape(states, -1, n)
    rows = (on @ table.weight[:, :, VERTICAL].reshape(on.shape[1], -1)).reshape(states, -1, 3)
    rows[:, :, 1:] /= system.scale
    q = (flex.transpose(1, 2, 0)[..., None] * samples.flex).reshape(n, n, states * batch)
    q[np.arange(n), np.arange(n)] += np.tile(samples.give, states)
    bent = np.einsum("tgi,gb->itb", sag, samples.mass) * samples.flex
    bounds = np.array([(c.low, c.high) for c in system.contacts]).reshape(-1, 2)
    return Problem(
        flexibility=q,
        columns=system.rows(slice(0, n)),
        weight=np.einsum("tgr,gb->rtb", rows, samples.mass).reshape(3, -1),
        offset=bent.reshape(n, -1) + np.tile(system.gap, states),
        low=np.repeat(np.where(here, bounds[:, 0], 0.0).T, batch, axis=1),
        high=np.repeat(np.where(here, bounds[:, 1], 0.0).T, batch, axis=1),
    )


def _can_rest(system: System, problem: Problem, here: Bools) -> Bools:
    """(T B,) whether any equilibrium exists, state by state."""
    batch = len(system.samples)
    bounds = np.array([(c.low, c.high) for c in system.contacts]).reshape(-1, 2)
    out = [
        holdable(problem.columns[:, on], problem.weight[:, t * batch : (t + 1) * batch], bounds[on, 0], bounds[on, 1])
        for t, on in enumerate(here)
    ]
    return np.concatenate(out)


def flex_between(system: System, keep: Bools, rows: slice, columns: slice) -> Array:
    """Flexibility (a, b) [m/N] between actions through the pieces that are still there, likely wood.

    Source: virtual work and statics, sums over the pieces kept.
    Checked by: tests/unit/contact/test_state.py
    """
    return np.asarray(system.integrals.flex[keep][:, rows, columns].sum(axis=0))


def sag_of(system: System, keep: Bools, rows: slice) -> Array:
    """(a, B) movement along actions by the tree's own weight [m].

    Source: virtual work and statics, sums over the pieces kept.
    Checked by: tests/unit/contact/test_state.py
    """
    pair = system.integrals.sag[keep][:, keep][:, :, :, rows].sum(axis=(0, 1))  # (G, a)
    return np.asarray(np.einsum("ga,gb->ab", pair, system.samples.mass) * system.samples.flex)


def weight_of(system: System, keep: Bools) -> Array:
    """(3, B) weight rows of the pieces that are still there.

    Source: virtual work and statics, sums over the pieces kept.
    Checked by: tests/unit/contact/test_state.py
    """
    total = system.integrals.weight[keep].sum(axis=0)[:, VERTICAL].T.copy()  # (3, G)
    total[1:] /= system.scale
    return np.asarray(total @ system.samples.mass)


def rise_of_contacts(system: System, state: State) -> Array:
    """(n, B) movement of the wood along each contact's force [m], from the unloaded shape of each sample.

    Source: virtual work and statics, sums over the pieces kept.
    Checked by: tests/unit/contact/test_state.py
    """
    return np.asarray(state.opening - system.gap - system.samples.give * state.force)


def movement_of(system: System, state: State, actions: slice) -> Array:
    """(a, B) movement along actions in a state [m, rad], from the unloaded shape of each sample.

    Only vertical movement and tilt are in the vertical problem: probes along x and y and turns about z come out
    as the wood's own bending alone.
    Source: virtual work and statics, sums over the pieces kept.
    Checked by: tests/unit/contact/test_state.py
    """
    through = flex_between(system, state.keep, actions, slice(0, system.count))
    bent = (through @ state.force) * system.samples.flex + sag_of(system, state.keep, actions)
    return np.asarray(bent + system.rows(actions).T @ state.movement)


def reduced(system: System, which: NDArray[np.int64], others: NDArray[np.int64] | None = None) -> System:
    """The same tree with only some of its contacts, and only those other actions that are asked for: a search over
    many states needs none.

    which (k,): numbers of the contacts kept; others: numbers of further actions. Gaps [m] and samples stay as they are.
    Source: house rule.
    Checked by: tests/unit/contact/test_state.py
    """
    table, samples = system.integrals, system.samples
    actions = which if others is None else np.concatenate([which, others])
    integrals = replace(
        table,
        flex=np.ascontiguousarray(table.flex[:, actions][:, :, actions]),
        sag=np.ascontiguousarray(table.sag[..., actions]),
        wrench=table.wrench[:, actions],
        action_piece=table.action_piece[actions],
    )
    return System(
        contacts=tuple(system.contacts[i] for i in which),
        integrals=integrals,
        samples=replace(samples, give=samples.give[which], misfit=samples.misfit[which]),
        gap=system.gap[which],
        scale=system.scale,
    )


def total_weight(system: System, keep: Bools) -> Array:
    """(B,) weight of what is still there [N], positive.

    Source: statics.
    Checked by: tests/unit/contact/test_state.py
    """
    return np.asarray(-(system.integrals.weight[keep].sum(axis=0)[:, 2] @ system.samples.mass))


def mass_of(system: System, keep: Bools) -> Array:
    """(B,) mass of what is still there [kg].

    Source: mass is weight over gravity.
    Checked by: tests/unit/contact/test_state.py
    """
    return total_weight(system, keep) / GRAVITY
