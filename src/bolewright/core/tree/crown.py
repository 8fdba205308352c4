"""Small wood and foliage that nobody measured, filled in from limb basal area.

A limb's allowance is a published rate times its basal area and stands for all the branch wood (or all the leaves) at
and beyond its base. What was measured, its own wood and the whole allowance of the limbs on it, is taken off; the
rest is spread evenly over its outer part. Leaf mass linear in basal area of the first branches: Grabosky, Gilman and
Harchick 2007, Urban Forestry and Urban Greening 6:159-167.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from bolewright.core.tree.axis import Line
from bolewright.core.tree.segments import Segments
from bolewright.core.tree.spec import TreeSpec
from bolewright.core.tree.volume import circle_area

Floats = NDArray[np.float64]
OUTER = 0.6  # share of a limb's length the fill is spread over, from the tip (common practice)
LEAST_SMALL_WOOD = 0.15  # of a limb's own wood (common practice)
TOP = 0.7  # the stem beyond this share of its length is its top, filled in like a limb (common practice)


def crown_marks(spec: TreeSpec, lines: Sequence[Line]) -> list[list[float]]:
    """Distances [m] along each member (M,) where a segment has to end so that the fill comes out the same however the
    tree is cut up: where the fill begins, and on a stem with foliage where its top begins.

    Source: common practice.
    Checked by: tests/properties/test_tree_mass.py
    """
    if max(spec.small_wood_per_area, spec.leaf_per_area, spec.needle_per_area) <= 0.0:
        return [[] for _ in lines]
    starts = _fill_starts(lines)
    marks = [[] if kind == "none" else [float(s)] for kind, s in zip(_kinds(spec, lines), starts, strict=True)]
    if marks[0]:
        marks[0].append(TOP * lines[0].length)
    return marks


def _fill_starts(lines: Sequence[Line]) -> Floats:
    """Distance along each member (M,) from which its fill is spread."""
    length = np.array([line.length for line in lines])
    return np.asarray(length - OUTER * (length - _crown_bases(lines)))


def _crown_bases(lines: Sequence[Line]) -> Floats:
    return np.array([line.stub if line.parent >= 0 else TOP * line.length for line in lines])


def _kinds(spec: TreeSpec, lines: Sequence[Line]) -> list[str]:
    kinds = {limb.id: limb.foliage for limb in spec.limbs}
    return [spec.stem_foliage if line.parent < 0 else kinds[line.member] for line in lines]


def crown_mass(spec: TreeSpec, lines: Sequence[Line], segments: Segments, wood: Floats) -> tuple[Floats, Floats]:
    """Small wood and foliage [kg] per segment (K,) each, given the wood per segment (K,) [kg].

    The fill is as good as the rate: open-grown limbs carry more than the forest trees most rates were taken from.

    Source: Grabosky, Gilman and Harchick 2007 for the proportion to basal area; shares by common practice.
    Checked by: tests/unit/tree/test_crown.py
    """
    kinds = _kinds(spec, lines)
    bases = zip(lines, _crown_bases(lines), strict=True)
    areas = circle_area(np.array([line.diameters_at(base)[0] for line, base in bases]))
    beyond = _areas_on(lines, areas)
    own = np.bincount(segments.member, weights=_own_wood(lines, segments, wood), minlength=len(lines))
    small = np.maximum(spec.small_wood_per_area * (areas - beyond) - own, LEAST_SMALL_WOOD * own)
    bears_wood = np.array([kind != "none" for kind in kinds]) & (spec.small_wood_per_area > 0.0)
    rate = {"leaf": spec.leaf_per_area, "needle": spec.needle_per_area}
    leaves = np.array([rate.get(kind, 0.0) for kind in kinds]) * np.maximum(areas - beyond, 0.0)
    share = _spread(lines, segments)
    return np.asarray(share * np.where(bears_wood, small, 0.0)[segments.member]), share * leaves[segments.member]


def _areas_on(lines: Sequence[Line], areas: Floats) -> Floats:
    """Basal area of the limbs each member carries directly; on the stem only those on its top count."""
    total = np.zeros(len(lines))
    for i, line in enumerate(lines):
        if line.parent < 0 or (line.parent == 0 and line.at < TOP * lines[0].length):
            continue
        total[line.parent] += areas[i]
    return total


def _own_wood(lines: Sequence[Line], segments: Segments, wood: Floats) -> Floats:
    """Wood per segment that an allowance already contains: all of a limb's, the stem's only on its top."""
    length = segments.s_end - segments.s_start
    top = np.clip((segments.s_end - TOP * lines[0].length) / length, 0.0, 1.0)
    return np.asarray(np.where(segments.member == 0, wood * top, wood))


def _spread(lines: Sequence[Line], segments: Segments) -> Floats:
    """Share of its member's fill that each segment takes: its length beyond where the fill starts."""
    start = _fill_starts(lines)[segments.member]
    over = np.maximum(segments.s_end - np.maximum(segments.s_start, start), 0.0)
    total = np.bincount(segments.member, weights=over, minlength=len(lines))
    return np.asarray(over / np.where(total > 0.0, total, 1.0)[segments.member])
