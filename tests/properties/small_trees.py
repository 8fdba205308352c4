"""Small real trees for the search: wood, contacts, samples and rules, without a job document."""

from __future__ import annotations

import numpy as np
from tests.references.contact_engine import push_up

from bolewright.core.base.range import Range
from bolewright.core.contact.actions import Array
from bolewright.core.contact.flexibility import integrate
from bolewright.core.contact.gaps import settle_gaps
from bolewright.core.contact.samples import Spread, draw
from bolewright.core.contact.state import State, System, new_system, solve_states
from bolewright.core.contact.supports import Contact, actions_of
from bolewright.core.cutting.handling import HandlingLimits, PieceFacts
from bolewright.core.cutting.judge import Judge, Rules
from bolewright.core.cutting.order import PieceTree
from bolewright.core.tree.assembly import Assembly, build_assembly, place
from bolewright.core.tree.pieces import divide, label_segments, piece_masses, piece_parents
from bolewright.core.tree.spec import Limb, Station, TreeSpec

SAMPLES = 16
MODULUS = 8e9
SPREAD = Spread(*(Range(0.9, 1.0, 1.1) for _ in range(5)), Range(0.7, 1.0, 1.4))


def small_judge(seed: int) -> Judge:
    """A judge over a stem in two or three pieces with two or three limbs, on ground, roof and two limb tips."""
    rng = np.random.default_rng(seed)
    assembly, cuts = _tree(rng)
    pieces = divide(assembly, cuts)
    labels = label_segments(assembly, pieces)
    parents = piece_parents(assembly, labels, len(pieces))
    contacts = _contacts(assembly, rng)
    integrals = integrate(assembly, labels, len(pieces), actions_of(contacts), MODULUS, np.array([4.0, 0.0, 1.0]))
    system = new_system(contacts, integrals, draw(SPREAD, contacts, SAMPLES, rng), 5.0)
    every = np.ones(len(pieces), dtype=bool)
    found = solve_states(system, [every], [np.array([c.touching for c in contacts])])[0]
    system = settle_gaps(system, found)
    mass = piece_masses(assembly, labels, len(pieces)).sum(axis=1)[:, None] * system.samples.mass[0]
    facts = PieceFacts(
        mass=mass,
        over_building=rng.random(len(pieces)) < 0.3,
        over_protected=np.zeros(len(pieces), dtype=bool),
        air=rng.uniform(0.0, 4.0, len(pieces)),
        cut_diameter=np.full(len(pieces), 0.3),
    )
    line, drop = rng.uniform(200.0, 900.0), rng.uniform(300.0, 1200.0)
    limits = HandlingLimits(drop=drop, roll=drop, line=line, crane=float(rng.choice([0.0, 700.0])))
    tree = PieceTree(tuple(int(p) for p in parents))
    return Judge(system, tree, _rules(system, found, rng), facts, limits, np.ones(len(contacts), dtype=bool))


def _tree(rng: np.random.Generator) -> tuple[Assembly, list[tuple[str, float]]]:
    cuts = [("stem", 4.0), ("stem", 8.5)][: int(rng.integers(1, 3))]
    limbs = tuple(
        Limb(f"L{i}", "stem", float(rng.uniform(4.6, 8.0)), clock, 1.2, 2.4, 0.2, 0.1)
        for i, clock in enumerate((4.5, 7.5, 12.0)[: int(rng.integers(2, 4))], start=1)
    )
    stations = (Station(0.0, 0.5, 0.3), Station(11.0, 0.25, 2.5))
    places = tuple(cuts) + (("stem", 0.5), ("stem", 3.2), ("stem", 6.0), ("stem", 9.5), ("L1", 2.2), ("L2", 2.2))
    return build_assembly(TreeSpec(stations, limbs, wood_density=900.0, split_at=places)), cuts


def _contacts(assembly: Assembly, rng: np.random.Generator) -> list[Contact]:
    out = []
    for name, member, at, aside, building in (
        ("butt", "stem", 0.5, 0.15, False),  # a saddle: without two points side by side a bare stem would roll
        ("butt", "stem", 0.5, -0.15, False),
        ("crib", "stem", 3.2, 0.15, False),
        ("crib", "stem", 3.2, -0.15, False),
        ("wall", "stem", 6.0, 0.0, True),
        ("roof", "stem", 9.5, 0.0, True),
        ("right", "L1", 2.2, 0.0, False),
        ("left", "L2", 2.2, 0.0, False),
    ):
        where = place(assembly, member, at)
        out.append(
            push_up(
                where.segment,
                where.point + [0.0, aside, -where.diameter / 2.0],
                float(10.0 ** rng.uniform(-7.0, -5.0)),
                id=name,
                member=member,
                at=at,
                building=building,
                misfit=0.003,
            )
        )
    return out


def _rules(system: System, found: State, rng: np.random.Generator) -> Rules:
    building = np.array([c.building for c in system.contacts], dtype=bool)
    floor = float(rng.uniform(500.0, 4000.0))
    limit: Array = np.where(building[:, None], found.force + floor, np.inf)
    total = found.force[building].sum(axis=0) + floor
    tolerance = np.full(system.count, float(rng.uniform(0.05, 1.0)))
    return Rules(0.9, limit, building, total, tolerance)
