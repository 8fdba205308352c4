"""The job as a solid: wood in its pieces, building, ground, props, lines and forces as one glTF file.

Every moment of the work is a scene of the file. A piece is a node of its own that carries what is known of it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.base.vectors import unit
from bolewright.drawings.forces import CARRIES, CLEAR, HEAD, HEAD_HALF, SHAFT_HALF, Shown
from bolewright.drawings.frame import ground_level
from bolewright.drawings.gltf import File, Mesh, turned
from bolewright.drawings.ink import Ink, inks
from bolewright.drawings.meshes import arrow, flat, joined, prism, rod, wood
from bolewright.drawings.moments import Moment, PieceSeen
from bolewright.drawings.structures import LINES, POST_WIDTH, POSTS
from bolewright.planning.shapes import BuildingShape, Outline, Point, ProtectedShape, Scene, SupportShape

LONGEST_ARROW = 2.4  # m, for the greatest force of all moments
SIDE_ROOM = 6.0  # m of ground drawn to either side
LOW = 0.15  # m, the least height a thing to protect is drawn with


def solid(scene: Scene, moments: Iterable[Moment], pieces: Iterable[PieceSeen], night: bool = False) -> bytes:
    """The job as glTF 2.0 binary; the same results give the same bytes."""
    file, ink, shown = File(scene.title), inks(night), list(moments)
    paint = _paint(file, ink)
    still = [*_surroundings(file, scene, paint), *_plate(file, scene, paint)]
    known = {p.id: p for p in pieces}
    there = {run.piece: _piece(file, run, known.get(run.piece), paint) for run in scene.wood if len(run.points) > 1}
    posts = {s.id: _post(file, s, paint) for s in scene.supports if s.kind in (*POSTS, *LINES)}
    shape = file.mesh("force", [(arrow(HEAD, HEAD_HALF, SHAFT_HALF), paint["force"])])
    most = max((_size(s.force) for m in shown for s in m.supports if s.force), default=0.0)
    for moment in shown:
        standing = [node for name, node in posts.items() if name in moment.standing]
        forces = [_force(file, s, moment.n, shape, most) for s in moment.supports if _acts(s)]
        file.scene(moment.words, [*still, *(there[p] for p in moment.on if p in there), *standing, *forces],
                   {"n": moment.n, "leaves": list(moment.leaves), "then": moment.then})  # fmt: skip
    return file.written()


def _paint(file: File, ink: Ink) -> dict[str, int]:
    """The tones of the drawing sheet."""
    return {
        "bark": file.material("bark", ink.wood_shade),
        "cut face": file.material("cut face", ink.wood_far),
        "wall": file.material("wall", ink.building),
        "roof": file.material("roof", ink.roof, both_sides=True),
        "ground": file.material("ground", ink.panel, both_sides=True),
        "protected": file.material("to protect", ink.faint, opacity=0.45),
        "post": file.material("prop", ink.paper),
        "line": file.material("line", ink.ink),
        "plate": file.material("root plate", ink.plate),
        "force": file.material("force", ink.ink),
    }


def _surroundings(file: File, scene: Scene, paint: dict[str, int]) -> list[int]:
    level = ground_level(scene)
    nodes = [file.node("ground", file.mesh("ground", [(_ground(scene), paint["ground"])]), {"kind": "ground"})]
    for b in scene.buildings:
        parts = [(_walls(b, level), paint["wall"]), (_roof(b), paint["roof"])]
        nodes.append(file.node(f"building {b.id}", file.mesh(b.id, parts), {"kind": "building", "id": b.id}))
    for thing in scene.protected:
        mesh = file.mesh(thing.id, [(_box_over(thing, level), paint["protected"])])
        nodes.append(file.node(f"protect {thing.id}", mesh, {"kind": "protect", "id": thing.id, "what": thing.kind}))
    return nodes


def _ground(scene: Scene) -> Mesh:
    """The ground profile, as wide as everything on it."""
    ys = [p[1] for run in scene.wood for p in run.points]
    ys += [p[1] for b in scene.buildings for p in b.eave_corners] + [p[1] for c in scene.protected for p in c.corners]
    left, right = max(ys, default=0.0) + SIDE_ROOM, min(ys, default=0.0) - SIDE_ROOM
    line = sorted(scene.ground)
    return flat([[(a[0], right, a[2]), (b[0], right, b[2]), (b[0], left, b[2]), (a[0], left, a[2])]
                 for a, b in zip(line, line[1:], strict=False)])  # fmt: skip


def _round(corners: Iterable[Point]) -> tuple[float, float, float, float]:
    """near, far, right, left of a rectangle."""
    xs, ys = zip(*((c[0], c[1]) for c in corners), strict=True)
    return min(xs), max(xs), min(ys), max(ys)


def _ring(x0: float, x1: float, y0: float, y1: float, z: Any) -> list[Point]:
    """Corners anti-clockwise seen from above; z may be a height or a function of x."""
    return [(x, y, float(z(x) if callable(z) else z)) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]


def _walls(b: BuildingShape, level: Any) -> Mesh:
    """Walls up to the eave, inside the overhang; gable ends up to the ridge."""
    x0, x1, y0, y1 = _round(b.eave_corners)
    inset, eave = b.wall_inset, b.eave_corners[0][2]
    inner = (x0 + inset, x1 - inset, y0 + inset, y1 - inset)
    parts = [prism(_ring(*inner, level), _ring(*inner, eave))]
    if b.ridge:
        parts.append(_gables(b, inner, eave))
    return joined(parts)


def _gables(b: BuildingShape, inner: tuple[float, float, float, float], eave: float) -> Mesh:
    x0, x1, y0, y1 = inner
    top = b.ridge[0][2]
    if _along(b):
        y = b.ridge[0][1]
        return flat([[(x0, y1, eave), (x0, y0, eave), (x0, y, top)], [(x1, y0, eave), (x1, y1, eave), (x1, y, top)]])
    x = b.ridge[0][0]
    return flat([[(x0, y0, eave), (x1, y0, eave), (x, y0, top)], [(x1, y1, eave), (x0, y1, eave), (x, y1, top)]])


def _along(b: BuildingShape) -> bool:
    """Whether the ridge runs along x."""
    return abs(b.ridge[0][0] - b.ridge[1][0]) > abs(b.ridge[0][1] - b.ridge[1][1])


def _roof(b: BuildingShape) -> Mesh:
    x0, x1, y0, y1 = _round(b.eave_corners)
    eave = b.eave_corners[0][2]
    if not b.ridge:
        return flat([_ring(x0, x1, y0, y1, eave)])
    low, high = sorted(b.ridge)
    if _along(b):
        return flat([[(x0, y0, eave), (x1, y0, eave), high, low], [(x1, y1, eave), (x0, y1, eave), low, high]])
    return flat([[(x0, y1, eave), (x0, y0, eave), low, high], [(x1, y0, eave), (x1, y1, eave), high, low]])


def _box_over(thing: ProtectedShape, level: Any) -> Mesh:
    box, tall = _round(thing.corners), max(thing.height, LOW)
    return prism(_ring(*box, level), _ring(*box, lambda x: level(x) + tall))


def _plate(file: File, scene: Scene, paint: dict[str, int]) -> list[int]:
    if scene.plate is None:
        return []
    centre, diameter, thick, axis = scene.plate
    half = unit(axis) * thick / 2.0
    mesh = file.mesh("root plate", [(rod(np.subtract(centre, half), np.add(centre, half), diameter), paint["plate"])])
    return [file.node("root plate", mesh, {"kind": "root plate"})]


def _piece(file: File, run: Outline, known: PieceSeen | None, paint: dict[str, int]) -> int:
    bark, faces = wood(run)
    mesh = file.mesh(run.piece, [(bark, paint["bark"]), (faces, paint["cut face"])])
    facts: dict[str, Any] = {"kind": "piece", "id": run.piece, "member": run.member}
    if known is not None:
        facts |= {"from_m": known.from_m, "to_m": known.to_m, "mass_kg": _three(known.mass_kg), "role": known.role}
        if known.bind is not None:
            facts |= {"cut_at_m": known.cut_at_m, "bind": known.bind.kind}
    return file.node(f"piece {run.piece}", mesh, facts)


def _post(file: File, support: SupportShape, paint: dict[str, int]) -> int:
    """A prop, crib or chock under the wood, or a line to its anchor."""
    a, b = np.array(support.foot), np.array(support.point)
    facts = {"kind": support.kind, "id": support.id, "member": support.member}
    if support.kind in LINES or float(np.linalg.norm(b - a)) < 0.02:
        mesh = rod(a, b if float(np.linalg.norm(b - a)) > 0.02 else a + (0.0, 0.0, 0.02), 0.04)
        return file.node(f"{support.kind} {support.id}", file.mesh(support.id, [(mesh, paint["line"])]), facts)
    half = POST_WIDTH[support.kind] / 2.0
    box = (a[0] - half, a[0] + half, a[1] - half, a[1] + half)
    body = prism(_ring(*box, float(a[2])), _ring(*box, float(b[2])))
    return file.node(f"{support.kind} {support.id}", file.mesh(support.id, [(body, paint["post"])]), facts)


def _acts(support: Shown) -> bool:
    return support.force is not None and support.state == CARRIES and support.state != CLEAR


def _size(force: Range | None) -> float:
    return 0.0 if force is None else abs(force.likely)


def _force(file: File, support: Shown, moment: int, shape: int, most: float) -> int:
    """The arrow of a force: its area goes with the force, so its length with the root of it. A push ends at the wood, a
    pull begins there."""
    assert support.force is not None
    sign = 1.0 if support.force.likely >= 0.0 else -1.0
    way = unit(np.array(support.direction) * sign)
    length = max(LONGEST_ARROW * math.sqrt(_size(support.force) / most) if most > 0.0 else 0.0, 0.05)
    pulls = support.kind in LINES or sign < 0.0
    tip = np.array(support.point) + (way * length if pulls else 0.0)
    facts = {"kind": "force", "id": support.id, "on": support.kind, "force_N": _three(support.force)}
    return file.node(f"force {support.id} at {moment}", shape, facts, tip, _turn_of(way), length)


def _turn_of(way: Any) -> list[float]:
    """Quaternion (x, y, z, w) in glTF's axes that turns up (z of the job frame) to a direction."""
    x, y, z = turned(way)
    if y < -1.0 + 1e-9:
        return [1.0, 0.0, 0.0, 0.0]
    q = np.array([z, 0.0, -x, 1.0 + y])  # cross product of up (0, 1, 0) with the direction, and one more than the dot
    return [float(c) for c in q / np.linalg.norm(q)]


def _three(value: Range) -> list[float]:
    return [float(f"{v:.6g}") for v in (value.low, value.likely, value.high)]
