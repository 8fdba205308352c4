"""Random trees lying on one-sided supports, the same for the same seed: stem and limbs in prismatic steps."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from tests.references.nodes import lay_out

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
UP = np.array([0.0, 0.0, 1.0])
TENTHS = 10  # supports stand at whole tenths of a segment: an assembled stiffness matrix loses digits on very short
# members (with supports 1 mm apart OpenSees' own forces miss balance by 29 N in 40 kN, and by solver differently)


@dataclass(frozen=True)
class Case:
    """K prismatic segments (parents first, stiffness in N m2 and N, weight in N) and m supports (N/m, m)."""

    start: Floats
    end: Floats
    parent: Ints
    EI: Floats
    GJ: Floats
    EA: Floats
    weight: Floats
    support_segment: Ints
    support_point: Floats
    direction: Floats
    stiffness: Floats
    gap: Floats

    def only(self, chosen: NDArray[np.bool_]) -> Case:
        """The same wood on the chosen supports alone."""
        names = ("support_segment", "support_point", "direction", "stiffness", "gap")
        return replace(self, **{name: getattr(self, name)[chosen] for name in names})

    def frame_arguments(self) -> tuple[NDArray, ...]:
        """Everything in the order the reference frames take it."""
        return tuple(getattr(self, name) for name in self.__dataclass_fields__)


def random_case(seed: int) -> Case:
    """A stem of 4 to 9 steps with 2 to 8 limbs, on 3 to 12 supports below it; always wide enough to be held."""
    rng = np.random.default_rng(seed)
    found = None
    while found is None:  # a lopsided tree may find nothing to stand on; then another is grown
        wood = _Wood()
        stem = _stem(rng, wood)
        for _ in range(rng.integers(2, 9)):
            _limb(rng, wood, int(rng.choice(stem)))
        found = _supports(rng, wood, int(rng.integers(3, 13)))
    segment, point = found
    return Case(
        start=np.array(wood.start),
        end=np.array(wood.end),
        parent=np.array(wood.parent),
        EI=np.array(wood.EI),
        GJ=np.array(wood.GJ),
        EA=np.array(wood.EA),
        weight=np.array(wood.weight),
        support_segment=segment,
        support_point=point,
        direction=np.tile(UP, (len(segment), 1)),
        stiffness=10.0 ** rng.uniform(4.5, 8.0, len(segment)),
        gap=np.where(rng.random(len(segment)) < 0.5, 0.0, rng.uniform(0.0, 0.02, len(segment))),
    )


def with_feet(case: Case) -> Case:
    """The same tree with short feet of wood from the axis to each support, so that every support is at an end."""
    layout = lay_out(case.start, case.end, case.parent, case.support_segment, case.support_point)
    begin, stop, segment = ([e[i] for e in layout.elements] for i in range(3))
    share = np.array([e[3] for e in layout.elements])
    carrier = {b: e for e, b in enumerate(stop)}
    foot = [layout.points[n] for n in layout.support_node]
    return replace(
        case,
        start=np.array([layout.points[a] for a in begin] + foot),
        end=np.vstack([[layout.points[b] for b in stop], case.support_point]),
        parent=np.array([carrier.get(n, -1) for n in begin] + [carrier.get(n, -1) for n in layout.support_node]),
        EI=np.concatenate([case.EI[segment], case.EI[case.support_segment]]),
        GJ=np.concatenate([case.GJ[segment], case.GJ[case.support_segment]]),
        EA=np.concatenate([case.EA[segment], case.EA[case.support_segment]]),
        weight=np.concatenate([case.weight[segment] * share, np.full(len(foot), 50.0)]),
        support_segment=len(begin) + np.arange(len(foot)),
    )


def tilted_case(seed: int) -> Case:
    """The same wood on 8 to 12 supports that act both ways in any direction, spread so that none is overworked."""
    rng = np.random.default_rng(seed + 1_000_000)
    case = random_case(seed)
    size = float(np.ptp(case.end, axis=0).max())
    for _ in range(1000):
        count = int(rng.integers(8, 13))
        segment = rng.integers(0, len(case.start), count)
        share = rng.integers(1, TENTHS, (count, 1)) / TENTHS
        off = _square(rng.uniform(-1.0, 1.0, (count, 3)), (case.end - case.start)[segment])
        point = case.start[segment] * (1 - share) + case.end[segment] * share + off
        way = rng.normal(size=(count, 3))
        way /= np.linalg.norm(way, axis=1, keepdims=True)
        arms = np.cross(point - point.mean(axis=0), way) / size
        if np.linalg.svd(np.hstack([way, arms]), compute_uv=False)[-1] > 0.05:
            break
    else:
        raise AssertionError(f"no well-spread supports found for seed {seed}")
    return replace(
        case,
        support_segment=segment,
        support_point=point,
        direction=way,
        stiffness=10.0 ** rng.uniform(4.5, 8.0, count),
        gap=rng.uniform(-0.01, 0.01, count),
    )


class _Wood:
    """Segments while a tree is being grown."""

    def __init__(self) -> None:
        self.start: list[Floats] = []
        self.end: list[Floats] = []
        self.parent: list[int] = []
        self.diameter: list[float] = []
        self.EI: list[float] = []
        self.GJ: list[float] = []
        self.EA: list[float] = []
        self.weight: list[float] = []

    def add(self, start: Floats, end: Floats, parent: int, diameter: float, modulus: float) -> int:
        """A round prism of green wood, 9 kN/m3, shear modulus a fifteenth of the modulus."""
        area = np.pi / 4 * diameter**2
        second = np.pi / 64 * diameter**4
        self.start.append(start)
        self.end.append(end)
        self.parent.append(parent)
        self.diameter.append(diameter)
        self.EI.append(modulus * second)
        self.GJ.append(modulus / 15 * 2 * second)
        self.EA.append(modulus * area)
        self.weight.append(9000.0 * area * float(np.linalg.norm(end - start)))
        return len(self.start) - 1


def _stem(rng: np.random.Generator, wood: _Wood) -> list[int]:
    steps = int(rng.integers(4, 10))
    point = np.array([0.0, 0.0, rng.uniform(0.5, 4.0)])
    way = np.array([1.0, rng.uniform(-0.1, 0.1), rng.uniform(-0.3, 0.3)])
    base, modulus = rng.uniform(0.3, 1.0), rng.uniform(6e9, 13e9)
    made = []
    for i in range(steps):
        length = rng.uniform(0.8, 3.0)
        bend = way + np.array([0.0, rng.uniform(-0.1, 0.1), rng.uniform(-0.1, 0.1)])
        stop = point + length * bend / np.linalg.norm(bend)
        made.append(wood.add(point, stop, i - 1, base * (1.0 - 0.8 * i / steps), modulus))
        point = stop
    return made


def _limb(rng: np.random.Generator, wood: _Wood, parent: int) -> None:
    way = np.array([rng.uniform(0.2, 1.0), rng.choice([-1, 1]) * rng.uniform(0.4, 1.0), rng.uniform(-0.5, 0.5)])
    way /= np.linalg.norm(way)
    point, diameter = wood.end[parent], wood.diameter[parent] * rng.uniform(0.25, 0.6)
    modulus = rng.uniform(6e9, 13e9)
    for _ in range(rng.integers(1, 4)):
        stop = point + rng.uniform(0.5, 2.0) * way
        parent = wood.add(point, stop, parent, diameter, modulus)
        point, diameter = stop, 0.7 * diameter


def _supports(rng: np.random.Generator, wood: _Wood, count: int) -> tuple[Ints, Floats] | None:
    """Points on the underside, drawn again until the centre of mass stands over them."""
    start, end, weight = np.array(wood.start), np.array(wood.end), np.array(wood.weight)
    centre = (0.5 * (start + end) * weight[:, None]).sum(axis=0) / weight.sum()
    radius = 0.5 * np.array(wood.diameter)
    for _ in range(2000):
        segment = rng.integers(0, len(start), count)
        share = rng.integers(1, TENTHS, (count, 1)) / TENTHS
        point = start[segment] * (1 - share) + end[segment] * share
        aside = np.column_stack([np.zeros(count), rng.uniform(-0.7, 0.7, count), -np.ones(count)])
        point = point + _square(aside, (end - start)[segment]) * radius[segment, None]
        if _stands(point[:, :2] - centre[:2]):
            return segment, point
    return None


def _square(offset: Floats, along: Floats) -> Floats:
    """The part of each offset square to the axis, so that a support stays at its tenth of the segment."""
    axis = along / np.linalg.norm(along, axis=1, keepdims=True)
    return offset - axis * np.sum(offset * axis, axis=1, keepdims=True)


def _stands(around: Floats) -> bool:
    """True when the origin lies well inside the points: no gap of half a turn between their bearings."""
    bearing = np.sort(np.arctan2(around[:, 1], around[:, 0]))
    between = np.diff(np.append(bearing, bearing[0] + 2 * np.pi))
    return bool(between.max() < 0.95 * np.pi)
