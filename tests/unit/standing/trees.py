"""Small standing trees for the tests of this folder and of tests/properties/test_standing.py."""

from __future__ import annotations

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.standing.crown import Slices, crown_slices
from bolewright.core.standing.failing import GUSTS, Case
from bolewright.core.standing.loads import loads
from bolewright.core.standing.strength import sound_strength
from bolewright.core.standing.unknowns import Unknowns
from bolewright.core.standing.upright import Upright, crown_masses, leaned, upright
from bolewright.core.tree.assembly import Assembly, build_assembly
from bolewright.core.tree.spec import Limb, Station, TreeSpec

FORWARD = np.array([1.0, 0.0])


def pole(height: float = 20.0, foot: float = 0.5, top: float = 0.5, density: float = 900.0) -> Assembly:
    """A plumb stem without limbs."""
    stations = (Station(0.0, foot, 0.0), Station(height, top, height))
    return build_assembly(TreeSpec(stations=stations, wood_density=density))


def forked() -> Assembly:
    """A plumb stem with one limb forward and a branch on it."""
    stations = (Station(0.0, 0.5, 0.0), Station(12.0, 0.2, 12.0))
    limbs = (
        Limb("A", "stem", 6.0, 6.0, np.radians(90.0), 4.0, 0.2, 0.1, "none"),
        Limb("B", "A", 2.0, 12.0, np.radians(60.0), 2.0, 0.1, 0.05, "none"),
    )
    return build_assembly(TreeSpec(stations=stations, limbs=limbs, wood_density=900.0))


def ball(base: float = 8.0, top: float = 20.0, width: float = 8.0) -> Slices:
    """A round crown."""
    return crown_slices(base, top, width, "round")


def tree(lean: float = 0.0, crown_mass: float = 0.0, way: np.ndarray = FORWARD) -> Upright:
    """A 20 m pole with a round crown."""
    assembly = leaned(pole(), lean, way)
    slices = ball()
    extra = crown_masses(assembly, slices, np.zeros(2), [0.0, 0.0, crown_mass, 0.0, 0.0])
    return upright(assembly, np.arange(0.0, 9.0), slices, extra)


def case(standing: Upright, diameter: float = 0.5, capacity: float = 1e9, sway: float = 0.0) -> Case:
    """The tree with sound places of one thickness, in open country."""
    table = loads(standing, GUSTS, "ASCE", "open")
    return Case(table, tuple(sound_strength(diameter) for _ in standing.at), capacity, sway)


def plain_unknowns(strength: float = 40e6, drag: float = 0.25) -> Unknowns:
    """Everything exact."""
    one = Range.exact(1.0)
    return Unknowns(drag=Range.exact(drag), filled=one, strength=Range.exact(strength), wood=one)
