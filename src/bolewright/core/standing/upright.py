"""A rooted tree as what loads it: where its mass is, where the wind takes hold, and the places to look at.

x forward along the bearing, y left, z up, origin on the ground under the butt, as everywhere. A load at a limb or in
the crown reaches the stem where it is attached, so each carries the distance along the stem of that place.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.vectors import unit
from bolewright.core.standing.crown import Slices
from bolewright.core.tree.assembly import GROUPS, Assembly, turned
from bolewright.core.tree.spec import STEM

Floats = NDArray[np.float64]
STEEPEST = np.radians(85.0)


@dataclass(frozen=True)
class Masses:
    """P lumps of mass: distance along the stem of what carries them (P,), point (P, 3), mass by group (P, 5) [kg]."""

    at: Floats
    point: Floats
    mass: Floats

    def joined(self, other: Masses) -> Masses:
        """Both together."""
        return Masses(
            np.concatenate([self.at, other.at]),
            np.concatenate([self.point, other.point]),
            np.concatenate([self.mass, other.mass]),
        )


@dataclass(frozen=True)
class Sails:
    """C areas the wind takes hold of: distance along the stem (C,), height (C,) [m], area (C,) [m2]."""

    at: Floats
    height: Floats
    area: Floats


@dataclass(frozen=True)
class Upright:
    """A standing tree. `at` (S,) and `centre` (S, 3): places along the stem, the ground first."""

    at: Floats
    centre: Floats
    masses: Masses
    crown: Sails
    stem: Sails


def leaned(assembly: Assembly, lean: float, towards: ArrayLike, bow: float = 0.0) -> Assembly:
    """A plumb tree leant over about its foot [rad] towards a horizontal direction (2,), its stem bowed by `bow` [m].

    A bow of + bulges in the direction of the lean, most at half height, and leaves foot and top where they were: a
    lean that the top has grown out of is a bow of +.

    Raises BadInput for a lean of 85 degrees or more: such a tree lies.

    Source: geometry, rotation about a horizontal axis; parabola for the bow.
    Checked by: tests/unit/standing/test_upright.py, tests/properties/test_standing.py
    """
    if not 0.0 <= lean < STEEPEST:
        raise BadInput(
            f"A lean of {np.degrees(lean):.0f} deg is no standing tree: a tree that lies is described by its supports.",
            "standing.lean",
        )
    way = unit(np.append(np.asarray(towards, float), 0.0))
    up = np.array([0.0, 0.0, 1.0])
    side = np.cross(up, way)
    rotation = np.outer(side, side) + np.cos(lean) * (np.outer(up, up) + np.outer(way, way))
    rotation += np.sin(lean) * (np.outer(way, up) - np.outer(up, way))
    tilted = turned(assembly, rotation)
    if bow == 0.0:
        return tilted
    top = float(np.max(tilted.end[tilted.of(STEM), 2]))

    def bowed(points: Floats) -> Floats:
        share = np.clip(points[:, 2] / top, 0.0, 1.0)
        return np.asarray(points + (4.0 * bow * share * (1.0 - share))[:, None] * way)

    return replace(tilted, start=bowed(tilted.start), end=bowed(tilted.end), lump_point=bowed(tilted.lump_point))


def stem_points(assembly: Assembly, at: ArrayLike) -> Floats:
    """Points (n, 3) [m] of the stem's centre line at distances (n,) [m] along it.

    Source: geometry.
    Checked by: tests/unit/standing/test_upright.py
    """
    own = assembly.of(STEM)
    s = np.append(assembly.s_start[own], assembly.s_end[own][-1])
    points = np.concatenate([assembly.start[own], assembly.end[own][-1:]])
    return np.stack([np.interp(np.asarray(at, float), s, points[:, k]) for k in range(3)], axis=-1)


def stem_at_height(assembly: Assembly, height: ArrayLike) -> Floats:
    """Distances (n,) [m] along the stem where its centre line is at these heights (n,) [m]; its ends beyond them.

    Source: geometry.
    Checked by: tests/unit/standing/test_upright.py
    """
    own = assembly.of(STEM)
    s = np.append(assembly.s_start[own], assembly.s_end[own][-1])
    z = np.append(assembly.start[own, 2], assembly.end[own, 2][-1])
    return np.asarray(np.interp(np.asarray(height, float), np.maximum.accumulate(z), s))


def carried_at(assembly: Assembly) -> Floats:
    """Distance (K,) [m] along the stem of the place that carries each segment: its own on the stem, the attachment
    of the first limb below it elsewhere.

    Source: geometry of the branching.
    Checked by: tests/unit/standing/test_upright.py
    """
    at = (assembly.s_start + assembly.s_end) / 2.0
    for k in range(at.size):
        parent = int(assembly.parent[k])
        if assembly.member[k] != 0:
            at[k] = assembly.s_end[parent] if assembly.member[parent] == 0 else at[parent]
    return at


def tree_masses(assembly: Assembly) -> Masses:
    """The masses (P, 5) of stem and limbs, each at the middle of its segment; soil is left out.

    Source: as in core.tree.
    Checked by: tests/unit/standing/test_upright.py
    """
    return Masses(carried_at(assembly), (assembly.start + assembly.end) / 2.0, assembly.mass.copy())


def crown_masses(assembly: Assembly, slices: Slices, offset: ArrayLike, mass: ArrayLike) -> Masses:
    """Mass by group (5,) [kg] spread over the slices of a crown by their volume, standing over the stem plus an
    offset (2,) [m].

    Source: common practice: twigs and leaves fill the outline evenly.
    Checked by: tests/unit/standing/test_upright.py
    """
    at = stem_at_height(assembly, slices.height)
    point = stem_points(assembly, at)
    point[:, 2] = slices.height
    point[:, :2] += np.asarray(offset, float)
    share = slices.width**2 / np.sum(slices.width**2)
    spread = np.zeros((share.size, len(GROUPS)))
    spread[:] = share[:, None] * np.asarray(mass, float)
    return Masses(at, point, spread)


def upright(assembly: Assembly, at: ArrayLike, slices: Slices, extra: Masses | None = None) -> Upright:
    """The tree with places (S,) [m] along its stem to look at, its crown's outline, and mass beyond what was measured.

    Under the crown the bare stem takes wind; inside it, it stands in the lee of the leaves.

    Source: geometry.
    Checked by: tests/unit/standing/test_upright.py, tests/properties/test_standing.py
    """
    places = np.asarray(at, float)
    masses = tree_masses(assembly)
    own = assembly.of(STEM)
    middle = (assembly.start[own] + assembly.end[own])[:, 2] / 2.0
    rise = np.abs(assembly.end[own, 2] - assembly.start[own, 2])
    width = (assembly.diameter_start[own] + assembly.diameter_end[own]) / 2.0
    below = middle < slices.height[0]
    along = (assembly.s_start[own] + assembly.s_end[own]) / 2.0
    return Upright(
        at=places,
        centre=stem_points(assembly, places),
        masses=masses if extra is None else masses.joined(extra),
        crown=Sails(stem_at_height(assembly, slices.height), slices.height, slices.area),
        stem=Sails(along[below], middle[below], (rise * width)[below]),
    )
