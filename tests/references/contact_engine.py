"""The contact engine fed with bare arrays: wood in prismatic or tapered runs, supports and gaps, one sample as given.

What tests compare comes from here, so nothing is drawn by chance and nothing is filled in.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike, NDArray
from tests.references.nodes import lay_out
from tests.references.random_trees import Case

from bolewright.core.base.vectors import GRAVITY, UP
from bolewright.core.contact.actions import Actions, join
from bolewright.core.contact.flexibility import integrate
from bolewright.core.contact.samples import Samples
from bolewright.core.contact.state import State, System, solve_states
from bolewright.core.contact.supports import Contact, actions_of, likely_give
from bolewright.core.tree.assembly import GROUPS, Assembly

Floats = NDArray[np.float64]
NONE = np.zeros(3)


def wood(
    start: ArrayLike, end: ArrayLike, parent: ArrayLike, EI: ArrayLike, EA: ArrayLike, weight: ArrayLike, modulus: float
) -> Assembly:
    """Round runs of this bending stiffness, (K,) or (K, 2) at both ends (fourth root linear between, as in a taper),
    axial stiffness and weight [N], of wood of this modulus. Torsion stiffness follows: EI / 8 for G = E / 16."""
    begin, stop = np.asarray(start, float), np.asarray(end, float)
    both = np.asarray(EI, float).reshape(len(begin), -1) * np.ones(2)
    diameter = (64.0 * both / (np.pi * modulus)) ** 0.25
    middle = np.pi / 4.0 * diameter.mean(axis=1) ** 2
    count = len(begin)
    mass = np.zeros((count, len(GROUPS)))
    mass[:, 0] = np.asarray(weight, float) / GRAVITY
    length = np.linalg.norm(stop - begin, axis=1)
    return Assembly(
        members=("stem",),
        member=np.zeros(count, dtype=np.int64),
        start=begin,
        end=stop,
        diameter_start=diameter[:, 0],
        diameter_end=diameter[:, 1],
        s_start=np.cumsum(length) - length,
        s_end=np.cumsum(length),
        parent=np.asarray(parent, dtype=np.int64),
        bending_share=np.ones(count),
        area_share=np.asarray(EA, float) / (modulus * middle),
        mass=mass,
        lump_segment=np.zeros(0, dtype=np.int64),
        lump_point=np.zeros((0, 3)),
        lump_mass=np.zeros((0, len(GROUPS))),
        hollow_start=np.zeros(count),
        hollow_end=np.zeros(count),
        stub=np.zeros(count, dtype=bool),
    )


def push_up(segment: int, point: ArrayLike, give: float, **more: object) -> Contact:
    """A support that pushes straight up at a point carried by the end of a segment (-1: the butt)."""
    plain = Contact(
        id=f"at {segment}",
        kind="ground",
        member="stem",
        at=0.0,
        segment=segment,
        fraction=1.0,
        point=np.asarray(point, float),
        force=UP,
        couple=NONE,
        normal=UP,
        give=give,
        misfit=0.0,
    )
    return replace(plain, **more)  # type: ignore[arg-type]


def exact_samples(contacts: list[Contact]) -> Samples:
    """One sample: everything likely."""
    give = likely_give(contacts)[:, None]
    return Samples(mass=np.ones((len(GROUPS), 1)), flex=np.ones(1), give=give, misfit=np.zeros_like(give))


def system_of(
    assembly: Assembly,
    contacts: list[Contact],
    gap: ArrayLike,
    modulus: float,
    probes: Actions | None = None,
    labels: NDArray[np.int64] | None = None,
) -> System:
    """The tree on its contacts with these gaps; without labels it is all one piece."""
    own = np.zeros(len(assembly.parent), dtype=np.int64) if labels is None else labels
    actions = actions_of(contacts) if probes is None else join([actions_of(contacts), probes])
    origin = 0.5 * (assembly.start + assembly.end).mean(axis=0)
    integrals = integrate(assembly, own, int(own.max()) + 1, actions, modulus, origin)
    scale = max(float(np.abs(integrals.wrench[3:5, : len(contacts)]).max()), 1e-3)
    gaps = np.asarray(gap, float)[:, None]
    return System(tuple(contacts), integrals, exact_samples(contacts), gaps, scale)


def solved(system: System) -> State:
    """The state with every piece and every contact in place."""
    pieces = system.integrals.weight.shape[0]
    return solve_states(system, [np.ones(pieces, dtype=bool)], [np.ones(system.count, dtype=bool)])[0]


MODULUS = 1e10


def cut_at_supports(case: Case) -> Case:
    """The same tree with its segments ended where supports stand, torsion stiffness as the engine takes it."""
    layout = lay_out(case.start, case.end, case.parent, case.support_segment, case.support_point)
    begin, stop, segment = (np.array([e[i] for e in layout.elements]) for i in range(3))
    share = np.array([e[3] for e in layout.elements])
    carrier = {int(b): e for e, b in enumerate(stop)}
    points = np.array(layout.points)
    return replace(
        case,
        start=points[begin],
        end=points[stop],
        parent=np.array([carrier.get(int(n), -1) for n in begin]),
        EI=case.EI[segment],
        GJ=case.EI[segment] / 8.0,
        EA=case.EA[segment],
        weight=case.weight[segment] * share,
        support_segment=np.array([carrier[n] for n in layout.support_node]),
    )


def case_system(case: Case) -> System:
    """The engine's tree of a case that is cut at its supports; supports push only."""
    assembly = wood(case.start, case.end, case.parent, case.EI, case.EA, case.weight, MODULUS)
    contacts = [
        push_up(int(segment), point, 1.0 / stiffness)
        for segment, point, stiffness in zip(case.support_segment, case.support_point, case.stiffness, strict=True)
    ]
    return system_of(assembly, contacts, case.gap, MODULUS)
