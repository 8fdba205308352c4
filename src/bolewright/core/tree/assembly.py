"""The tree as arrays: segments with geometry, stiffness shares and mass, and lumps that are not along a segment."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.vectors import unit
from bolewright.core.tree.axis import CLOSE, Line, limb_line, stem_line
from bolewright.core.tree.check import check_spec
from bolewright.core.tree.crown import crown_marks, crown_mass
from bolewright.core.tree.hollow import shares_left, void_diameter
from bolewright.core.tree.segments import Segments, cut_up
from bolewright.core.tree.spec import Plate, TreeSpec
from bolewright.core.tree.volume import circle_area, cone_frustum

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
GROUPS = ("stem wood", "limb wood", "small wood", "foliage", "soil")
STEM_WOOD, LIMB_WOOD, SMALL_WOOD, FOLIAGE, SOIL = range(5)
STUB_STIFFNESS = 1e6  # a limb's centre line inside its parent's wood does not bend on its own


@dataclass(frozen=True)
class Assembly:
    """A branching assembly of K tapered round segments, members one after another, parents before children."""

    members: tuple[str, ...]  # "stem" first
    member: Ints  # (K,) index into members, never falling
    start: Floats  # (K, 3) centre line
    end: Floats  # (K, 3)
    diameter_start: Floats  # (K,)
    diameter_end: Floats
    s_start: Floats  # (K,) distance along the member from its base
    s_end: Floats
    parent: Ints  # (K,) segment at whose end this one is attached, -1 for the first of the stem
    bending_share: Floats  # (K,) I left over I solid, at half length; 1e6 on stubs
    area_share: Floats  # (K,) area left over area solid, the same way
    mass: Floats  # (K, 5) kg per group, likely, spread evenly along the segment
    lump_segment: Ints  # (P,) segment that carries the lump
    lump_point: Floats  # (P, 3)
    lump_mass: Floats  # (P, 5)
    hollow_start: Floats  # (K,) diameter of the round hole with the void's area, 0 where sound
    hollow_end: Floats
    stub: NDArray[np.bool_]  # (K,) inside the parent's wood: no mass, not a place to cut

    @cached_property
    def _runs(self) -> dict[str, slice]:
        bounds = np.searchsorted(self.member, np.arange(len(self.members) + 1)).tolist()
        return {name: slice(bounds[i], bounds[i + 1]) for i, name in enumerate(self.members)}

    def of(self, member: str, path: str = "member") -> slice:
        """The segments of one member. Raises BadInput when there is no such member."""
        if member not in self._runs:
            raise BadInput(f"There is no stem or limb called {member!r}.", path)
        return self._runs[member]

    def length_of(self, member: str) -> float:
        """Distance of the member's tip from its base."""
        return float(self.s_end[self.of(member).stop - 1])

    def stub_of(self, member: str) -> float:
        """How far along the member its parent's bark is; 0 for the stem."""
        first = self.of(member).start
        return float(self.s_end[first]) if self.stub[first] else 0.0


@dataclass(frozen=True)
class Place:
    """A place on a member's centre line."""

    segment: int
    point: Floats  # (3,)
    axis: Floats  # (3,) unit, towards the tip
    diameter: float


def build_assembly(spec: TreeSpec) -> Assembly:
    """The arrays of a measured tree: likely masses by group, geometry and stiffness shares.

    Wood is a frustum of a cone per segment times density, less what decay took. A segment's mass is spread evenly
    along it, so its centre lies about a sixth of (d1 - d2) / d times its length too far out: under 1 cm on half-metre
    segments of a normal taper. What the crew did not measure (small wood, foliage) is only as good as its rate.

    Parameters: spec, SI throughout. Raises BadInput with the path of the value that cannot be.
    Source: frustum of a cone, closed form; fill as in core.tree.crown.
    Checked by: tests/properties/test_tree_mass.py, tests/unit/tree/test_assembly.py
    """
    check_spec(spec)
    lines = member_lines(spec)
    segments = cut_up(lines, _marks(spec, lines), spec.longest)
    hole_start, hole_end, bending, area = _decay(spec, lines, segments)
    mass = _masses(spec, lines, segments, (hole_start, hole_end))
    lump_segment, lump_point, lump_mass = _lumps(spec.plate, segments)
    return Assembly(
        members=tuple(line.member for line in lines),
        member=segments.member,
        start=segments.start,
        end=segments.end,
        diameter_start=segments.diameter_start,
        diameter_end=segments.diameter_end,
        s_start=segments.s_start,
        s_end=segments.s_end,
        parent=segments.parent,
        bending_share=np.where(segments.stub, STUB_STIFFNESS, bending),
        area_share=np.where(segments.stub, STUB_STIFFNESS, area),
        mass=mass,
        lump_segment=lump_segment,
        lump_point=lump_point,
        lump_mass=lump_mass,
        hollow_start=hole_start,
        hollow_end=hole_end,
        stub=segments.stub,
    )


def member_lines(spec: TreeSpec) -> list[Line]:
    """Centre lines (SI) of stem and limbs, every parent before what grows from it, else in the order given.

    Source: geometry.
    Checked by: tests/unit/tree/test_assembly.py
    """
    lines = [stem_line(spec.stations)]
    index = {lines[0].member: 0}
    children: dict[str, list[int]] = {}
    for i, limb in enumerate(spec.limbs):
        children.setdefault(limb.on, []).append(i)
    queue = list(children.get(lines[0].member, []))
    for i in queue:  # grows while it is walked
        limb = spec.limbs[i]
        parent = index[limb.on]
        index[limb.id] = len(lines)
        lines.append(limb_line(limb, lines[parent], parent, f"tree.limb[{i}]"))
        queue.extend(children.get(limb.id, []))
    return lines


def _marks(spec: TreeSpec, lines: Sequence[Line]) -> list[list[float]]:
    """Per member, the distances where a segment has to end."""
    index = {line.member: i for i, line in enumerate(lines)}
    marks = crown_marks(spec, lines)
    for line in lines[1:]:
        marks[line.parent].append(line.at)
    for hollow in spec.hollows:
        marks[index[hollow.member]].extend((hollow.start, hollow.end))
    for i, (member, s) in enumerate(spec.split_at):
        if s > lines[index[member]].length + CLOSE:
            raise BadInput(f"A cut at {s:.2f} m lies beyond the end of {member}.", f"split_at[{i}].at")
        marks[index[member]].append(s)
    return marks


def _decay(spec: TreeSpec, lines: Sequence[Line], segments: Segments) -> tuple[Floats, Floats, Floats, Floats]:
    """Hole diameters at both ends and the shares of bending and area left at half length, (K,) each."""
    count = segments.member.size
    hole_start, hole_end, bending, area = np.zeros(count), np.zeros(count), np.ones(count), np.ones(count)
    taken = np.zeros(count, dtype=bool)
    index = {line.member: i for i, line in enumerate(lines)}
    for i, hollow in enumerate(spec.hollows):
        line = lines[index[hollow.member]]
        if hollow.end > line.length + CLOSE:
            raise BadInput(f"The decay runs beyond the end of {hollow.member}.", f"tree.decay[{i}].to")
        inside = (segments.member == index[hollow.member]) & ~segments.stub
        inside &= (segments.s_start >= hollow.start - CLOSE) & (segments.s_end <= hollow.end + CLOSE)
        if np.any(taken & inside):
            raise BadInput(f"Two runs of decay overlap on {hollow.member}; give each its own part.", f"tree.decay[{i}]")
        taken |= inside
        d0, d1 = segments.diameter_start[inside], segments.diameter_end[inside]
        hole_start[inside], hole_end[inside] = void_diameter(d0, hollow.shell), void_diameter(d1, hollow.shell)
        bending[inside], area[inside] = shares_left((d0 + d1) / 2.0, hollow.shell)
    return hole_start, hole_end, bending, area


def _masses(spec: TreeSpec, lines: Sequence[Line], segments: Segments, hole: tuple[Floats, Floats]) -> Floats:
    """Mass per segment and group (K, 5)."""
    length = segments.s_end - segments.s_start
    solid = cone_frustum(segments.diameter_start, segments.diameter_end, length)
    decayed = cone_frustum(hole[0], hole[1], length)
    volume = np.where(segments.stub, 0.0, solid - (1.0 - spec.decayed_share) * decayed)
    wood = spec.wood_density * volume
    mass = np.zeros((segments.member.size, len(GROUPS)))
    on_stem = segments.member == 0
    mass[on_stem, STEM_WOOD] = wood[on_stem]
    mass[~on_stem, LIMB_WOOD] = wood[~on_stem]
    mass[:, SMALL_WOOD], mass[:, FOLIAGE] = crown_mass(spec, lines, segments, wood)
    return mass


def _lumps(plate: Plate | None, segments: Segments) -> tuple[Ints, Floats, Floats]:
    """The root plate as one lump, half its thickness behind the butt along the stem."""
    if plate is None:
        return np.zeros(0, dtype=np.int64), np.zeros((0, 3)), np.zeros((0, len(GROUPS)))
    axis = unit(segments.end[0] - segments.start[0])
    mass = np.zeros((1, len(GROUPS)))
    mass[0, SOIL] = plate.density * float(circle_area(plate.diameter)) * plate.thickness
    point = segments.start[0] - axis * plate.thickness / 2.0
    return np.zeros(1, dtype=np.int64), point[None, :], mass


def place(assembly: Assembly, member: str, s: float, path: str = "at") -> Place:
    """Where distance s along a member is: its segment (at a joint the one on the base side), point, axis, diameter.

    Parameters: s [m] from the member's base; path names the value in the error.
    Raises BadInput when there is no such member or s is off its ends.
    Source: interpolation along the centre line.
    Checked by: tests/unit/tree/test_assembly.py
    """
    own = assembly.of(member, path)
    tip = float(assembly.s_end[own.stop - 1])
    if not -CLOSE <= s <= tip + CLOSE:
        raise BadInput(f"{s:.2f} m is off {member}, which is {tip:.2f} m long: there is no wood there.", path)
    i = own.start + min(int(np.searchsorted(assembly.s_end[own], s - CLOSE)), own.stop - own.start - 1)
    share = float(np.clip((s - assembly.s_start[i]) / (assembly.s_end[i] - assembly.s_start[i]), 0.0, 1.0))
    point = assembly.start[i] + share * (assembly.end[i] - assembly.start[i])
    diameter = assembly.diameter_start[i] + share * (assembly.diameter_end[i] - assembly.diameter_start[i])
    return Place(i, point, unit(assembly.end[i] - assembly.start[i]), float(diameter))


def turned(assembly: Assembly, rotation: ArrayLike, shift: ArrayLike = (0.0, 0.0, 0.0)) -> Assembly:
    """The same tree turned about the origin by a rotation or mirror (3, 3) and then moved by a shift [m].

    Source: geometry.
    Checked by: tests/properties/test_tree_mass.py
    """
    matrix, move = np.asarray(rotation, dtype=float), np.asarray(shift, dtype=float)
    return replace(
        assembly,
        start=assembly.start @ matrix.T + move,
        end=assembly.end @ matrix.T + move,
        lump_point=assembly.lump_point @ matrix.T + move,
    )
