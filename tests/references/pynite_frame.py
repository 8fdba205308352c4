"""Support forces of the same frame by PyNite (Pynite, MIT licence), for a known set of loaded supports."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from Pynite import FEModel3D
from tests.references.nodes import Floats, Layout, lay_out

ON_AXIS = 1e-9  # m


def pynite_forces(
    start: ArrayLike,
    end: ArrayLike,
    parent: ArrayLike,
    EI: ArrayLike,
    GJ: ArrayLike,
    EA: ArrayLike,
    weight: ArrayLike,
    support_segment: ArrayLike,
    support_point: ArrayLike,
    direction: ArrayLike,
    stiffness: ArrayLike,
    gap: ArrayLike,
) -> NDArray[np.float64]:
    """(m,) forces of vertical support springs that all act; the free body is pinned sideways at its foot.

    Support springs of the library are used, not its gap springs: a gap enters as the spring's force at rest. The
    library has no rigid arm, and a very stiff member in its place costs four digits, so supports must lie on the axis
    (`random_trees.with_feet` puts wood there).
    """
    if np.any(np.asarray(direction, float)[:, :2] != 0.0):
        raise ValueError("this reference takes vertical supports only")
    layout = lay_out(start, end, parent, support_segment, support_point)
    off = np.asarray(support_point, float) - np.array([layout.points[n] for n in layout.support_node])
    if np.any(np.linalg.norm(off, axis=1) > ON_AXIS):
        raise ValueError("this reference takes supports on the axis only")
    model = _wood(
        layout, np.asarray(EI, float), np.asarray(GJ, float), np.asarray(EA, float), np.asarray(weight, float)
    )
    model.def_support("n0", support_DX=True, support_DY=True, support_RZ=True)
    up, stiff, open_ = np.asarray(direction, float)[:, 2], np.asarray(stiffness, float), np.asarray(gap, float)
    names = [f"n{node}" for node in layout.support_node]
    for i, name in enumerate(names):
        spring = model.nodes[name].spring_DZ[0] or 0.0  # two supports may share a node
        model.def_support_spring(name, "DZ", float(spring) + float(stiff[i]))
        model.add_node_load(name, "FZ", -float(stiff[i] * open_[i] * up[i]))
    model.analyze_linear(check_stability=False, sparse=True)
    moved = np.array([model.nodes[name].DZ["Combo 1"] for name in names])
    return -stiff * (up * moved + open_)


def _wood(layout: Layout, EI: Floats, GJ: Floats, EA: Floats, weight: Floats) -> FEModel3D:
    """The bare wood, every member loaded by its share of its segment's weight."""
    model = FEModel3D()
    model.add_material("wood", E=1.0, G=1.0, nu=0.0, rho=0.0)
    for k in range(len(EI)):
        model.add_section(f"s{k}", A=float(EA[k]), Iy=float(EI[k]), Iz=float(EI[k]), J=float(GJ[k]))
    for n, point in enumerate(layout.points):
        model.add_node(f"n{n}", *map(float, point))
    for e, (a, b, k, share) in enumerate(layout.elements):
        model.add_member(f"e{e}", f"n{a}", f"n{b}", "wood", f"s{k}")
        load = -float(weight[k]) * share / float(np.linalg.norm(layout.points[b] - layout.points[a]))
        model.add_member_dist_load(f"e{e}", "FZ", load, load)
    return model
