"""A rigid tree let go above fixed pads and settled to rest in MuJoCo, for cases statics alone decides."""

from __future__ import annotations

import mujoco
import numpy as np
from numpy.typing import ArrayLike, NDArray

GRAVITY = 9.80665
KNOB = 0.01  # m, radius of the smooth knob on the wood above each pad


def mujoco_rest(
    start: ArrayLike, end: ArrayLike, weight: ArrayLike, support_point: ArrayLike, gap: ArrayLike, seconds: float = 20.0
) -> NDArray[np.float64]:
    """(m,) upward contact forces [N] on a rigid body of rods once it lies still.

    The air is made thick so that nothing swings for long; at rest that leaves no force. Each support is a pad without
    friction, `gap` below its point on the wood. Contacts are soft by a few hundredths of a millimetre, so the answer
    is that of statics only where three pads carry.
    """
    points, below = np.asarray(support_point, float), np.asarray(gap, float)
    model = mujoco.MjModel.from_xml_string(
        _scene(np.asarray(start, float), np.asarray(end, float), weight, points, below)
    )
    data = mujoco.MjData(model)
    for _ in range(int(seconds / model.opt.timestep)):
        mujoco.mj_step(model, data)
    fastest = float(np.abs(data.qvel).max())
    assert fastest < 1e-6, f"not at rest: {fastest} m/s"
    forces = np.zeros(len(points))
    for c in range(data.ncon):
        wrench = np.zeros(6)
        mujoco.mj_contactForce(model, data, c, wrench)
        names = [mujoco.mj_id2name(model, mujoco.mjtObj.mjOBJ_GEOM, int(g)) for g in data.contact[c].geom]
        pad = next(name for name in names if name)
        forces[int(pad[3:])] += wrench[0]
    return forces


def _scene(start: NDArray, end: NDArray, weight: ArrayLike, points: NDArray, gap: NDArray) -> str:
    """The model file: rods that carry mass but touch nothing, knobs that touch but weigh nothing to speak of."""
    rods = "".join(
        f'<geom type="cylinder" fromto="{_text(a)} {_text(b)}" size="0.05" mass="{w / GRAVITY!r}" '
        'contype="0" conaffinity="0"/>'
        for a, b, w in zip(start, end, map(float, np.asarray(weight, float)), strict=True)
    )
    knobs = "".join(
        f'<geom type="sphere" pos="{_text(p + [0, 0, KNOB])}" size="{KNOB}" mass="1e-9" contype="1" conaffinity="2"/>'
        for p in points
    )
    pads = "".join(
        f'<geom name="pad{i}" type="box" pos="{_text(p - [0, 0, g + 0.05])}" size="0.2 0.2 0.05" '
        'contype="2" conaffinity="1"/>'
        for i, (p, g) in enumerate(zip(points, gap, strict=True))
    )
    return f"""<mujoco>
      <option gravity="0 0 -{GRAVITY}" timestep="0.001" integrator="implicitfast" solver="Newton" tolerance="1e-14"/>
      <default><geom condim="1" solref="0.004 1" solimp="0.99 0.9999 0.0001"/></default>
      <worldbody>{pads}<body><joint type="free" damping="20000"/>{rods}{knobs}</body></worldbody></mujoco>"""


def _text(point: NDArray) -> str:
    return " ".join(repr(float(x)) for x in point)
