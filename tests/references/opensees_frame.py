"""Support forces of the same frame by OpenSees, for a known set of loaded supports acting in any direction."""

from __future__ import annotations

import ctypes
import importlib.util
from functools import cache
from pathlib import Path
from types import ModuleType

import numpy as np
from numpy.typing import ArrayLike, NDArray
from tests.references.nodes import Layout, lay_out

BUNDLED = ("libquadmath.so.0", "libgfortran.so.4", "libgomp.so.1", "libblas.so.3", "liblapack.so.3")


@cache
def opensees() -> ModuleType | str:
    """The library, or in one sentence why it cannot be used here.

    Its wheel brings its own linear algebra without telling the loader where, so that is loaded beforehand.
    """
    found = importlib.util.find_spec("openseespylinux")
    try:
        if found is not None and found.origin is not None:
            folder = Path(found.origin).parent / "lib"
            for name in BUNDLED:
                if (folder / name).exists():
                    ctypes.CDLL(str(folder / name), mode=ctypes.RTLD_GLOBAL)
        import openseespy.opensees as library
    except (ImportError, OSError, RuntimeError) as fault:
        return f"OpenSees does not load on this machine: {fault}"
    return library


def opensees_forces(
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
    vertical: bool = True,
) -> NDArray[np.float64]:
    """(m,) forces of support springs that all act; with `vertical` the body is pinned sideways at its foot."""
    ops = opensees()
    assert not isinstance(ops, str), ops
    layout = lay_out(start, end, parent, support_segment, support_point)
    points, way = np.asarray(support_point, float), np.asarray(direction, float)
    stiff, open_ = np.asarray(stiffness, float), np.asarray(gap, float)
    ops.wipe()
    ops.model("basic", "-ndm", 3, "-ndf", 6)
    _nodes(ops, layout, points)
    if vertical:
        ops.fix(1, 1, 1, 0, 0, 0, 1)
    _wood(ops, layout, np.asarray(EI, float), np.asarray(GJ, float), np.asarray(EA, float), np.asarray(weight, float))
    count = len(layout.points)
    for i in range(len(points)):
        ops.rigidLink("beam", layout.support_node[i] + 1, count + 2 * i + 1)
        ops.uniaxialMaterial("Elastic", i + 1, float(stiff[i]))
        across = np.cross(way[i], np.eye(3)[int(np.argmin(np.abs(way[i])))])
        ends = (count + 2 * i + 2, count + 2 * i + 1)
        ops.element(
            "zeroLength", 100_000 + i, *ends, "-mat", i + 1, "-dir", 1, "-orient", *way[i].tolist(), *across.tolist()
        )
        ops.load(ends[1], *(-stiff[i] * open_[i] * way[i]).tolist(), 0.0, 0.0, 0.0)
    for setting in (("constraints", "Transformation"), ("numberer", "RCM"), ("system", "BandGeneral")):
        getattr(ops, setting[0])(setting[1])
    ops.algorithm("Linear")
    ops.integrator("LoadControl", 1.0)
    ops.analysis("Static")
    assert ops.analyze(1) == 0, "OpenSees did not solve the frame"
    moved = np.array([ops.nodeDisp(count + 2 * i + 1)[:3] for i in range(len(points))])
    return -stiff * (np.sum(way * moved, axis=1) + open_)


def _nodes(ops: ModuleType, layout: Layout, points: NDArray[np.float64]) -> None:
    """Axis nodes from 1, then for each support the point on the wood and the fixed point it presses on."""
    for n, point in enumerate(layout.points):
        ops.node(n + 1, *map(float, point))
    for i, point in enumerate(points):
        for n in (1, 2):
            ops.node(len(layout.points) + 2 * i + n, *map(float, point))
        ops.fix(len(layout.points) + 2 * i + 2, 1, 1, 1, 1, 1, 1)


def _wood(ops: ModuleType, layout: Layout, EI: NDArray, GJ: NDArray, EA: NDArray, weight: NDArray) -> None:
    """Elastic members with their own weight along their local axes."""
    ops.timeSeries("Constant", 1)
    ops.pattern("Plain", 1, 1)
    for e, (a, b, k, share) in enumerate(layout.elements):
        span = layout.points[b] - layout.points[a]
        length = float(np.linalg.norm(span))
        x = span / length
        aside = np.cross(np.eye(3)[int(np.argmin(np.abs(x)))], x)
        y = aside / np.linalg.norm(aside)
        z = np.cross(x, y)
        ops.geomTransf("Linear", e + 1, *z.tolist())
        ops.element(
            "elasticBeamColumn", e + 1, a + 1, b + 1,
            float(EA[k]), 1.0, 1.0, float(GJ[k]), float(EI[k]), float(EI[k]), e + 1,
        )  # fmt: skip
        down = np.array([0.0, 0.0, -float(weight[k]) * share / length])
        ops.eleLoad("-ele", e + 1, "-type", "-beamUniform", float(down @ y), float(down @ z), float(down @ x))
