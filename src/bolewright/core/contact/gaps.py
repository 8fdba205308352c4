"""Gaps of contacts that carry nothing yet: set from what is measured, or from the force a support is brought to."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from bolewright.core.contact.state import Bools, State, System, movement_of, reduced, solve_states


def settle_gaps(system: System, found: State, which: Bools | None = None) -> System:
    """The system with the gap of every contact that does not touch set so that this state shows its measured distance
    in each sample. which (n,): only these of them; all when None.

    A support that is jacked pushes with its force, each by itself: of those to choose from, one is set.
    Parameters: found, mostly with all pieces on; gaps (n, B) [m].
    Source: house rule.
    Checked by: tests/unit/contact/test_state.py
    """
    away = np.array([not c.touching for c in system.contacts])
    away = away if which is None else away & which
    distance = np.array([c.gap for c in system.contacts])
    now = movement_of(system, found, slice(0, system.count))
    system = replace(system, gap=np.where(away[:, None], distance[:, None] - now, system.gap))
    contacts = zip(system.contacts, away, strict=True)
    pushing = [(c.id, c.jacked) if c.jacked > 0.0 and off else None for c, off in contacts]
    for support in dict.fromkeys(p for p in pushing if p is not None):
        rows = np.array([i for i, p in enumerate(pushing) if p == support])
        system, _ = set_together(system, found, rows)
    return system


def set_together(system: System, found: State, rows: NDArray[np.int64]) -> tuple[System, Bools]:
    """The system with the gaps of supports that are set against the tree in this state, and the samples (B,) in which
    the tree lies still under them.

    rows (k,): their contacts. Each pushes with its own jacked force [N] while all the others do; one that is not jacked
    just touches. That is how they stand when the crew has gone from one to the next until all show their force. Forces
    that are given are loads: the tree is solved under them, and each gap [m] is the one at which the contact gives that
    force there. With forces that lift the tree off what it rests on it does not lie still.
    Source: force method with forces given, e.g. Timoshenko & Young, Theory of Structures, 2nd ed. 1965.
    Checked by: tests/unit/contact/test_gaps.py.
    """
    contacts, present = list(system.contacts), found.present.copy()
    for i in rows:
        contacts[i] = replace(contacts[i], low=contacts[i].jacked, high=contacts[i].jacked)
    present[rows] = True
    which = np.flatnonzero(present)
    few = reduced(replace(system, contacts=tuple(contacts)), which)
    state = solve_states(few, [found.keep], [np.ones(len(which), dtype=bool)])[0]
    lifted = movement_of(few, state, slice(0, few.count))[np.searchsorted(which, rows)]
    forces = np.array([c.jacked for c in contacts])[rows]
    gap = system.gap.copy()
    gap[rows] = -(lifted + system.samples.give[rows] * forces[:, None])
    return replace(system, gap=gap), state.held
