"""What a lifted root plate does when the stem is cut off and a stub is left on it: stands up, stays or falls forward.

Picture: the tree has gone over and its root plate stands on edge behind the butt like a coin, the stem sticking out
of its face. The coin rests on its lower edge on the crown side: that edge is the hinge line. Behind the line hangs the
plate, wanting to drop back into its hole and stand the stub up; in front of it hangs the stub, wanting to come down
and pull the plate over on top of whoever stands there. Roots still bent under the plate push the way it came from:
back up. Friction, soil and torn roots hold against both, up to a point.

             |    |  n                 side view; butt at B, hinge line at P = B - R n,
             | W  |                    a along the stem (rises by `slope`), n square to it
    plate -> |  . |==========> a       plate centre half its thickness behind the butt
             |    |   stub             moments about P, + turns the stub up
             |    |
             '----P------------- ground
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.base.vectors import GRAVITY

Array = NDArray[np.float64]

STANDS, STAYS, FALLS, UNKNOWN = "stands up", "stays", "falls forward", "not enough is known"
SURE = 0.9  # share of the samples that must agree before one outcome is named
SPRING_BACK = (0.0, 0.3)  # of plate weight x radius; common practice
HOLDING = (0.05, 0.25)  # of plate weight x radius; common practice


@dataclass(frozen=True)
class PlateSamples:
    """Plate and stub over N samples, SI; every array (N,) or a number that stands for all."""

    mass: ArrayLike  # plate with its soil and roots [kg]
    diameter: ArrayLike
    thickness: ArrayLike
    slope: ArrayLike  # rad, how steeply the stem rises from the butt towards the crown; below 0 it dips
    butt_diameter: ArrayLike
    taper: ArrayLike  # m of diameter lost per m of stem
    wood_density: ArrayLike  # kg/m3, green
    spring_back: ArrayLike  # N m, bent roots pushing the plate back up
    holding: ArrayLike  # N m, most that friction, soil and torn roots resist either way


@dataclass(frozen=True)
class PlateState:
    """What the plate does with a stub of this length."""

    stub: float
    outcome: str
    moment: Range  # about the hinge line, + stands up [N m]
    share: dict[str, float]


def stub_mass_and_arm(
    butt_diameter: ArrayLike, taper: ArrayLike, density: ArrayLike, stubs: ArrayLike
) -> tuple[Array, Array]:
    """Mass [kg] and first moment along the stem from the butt [kg m] of stubs, each (N, B).

    Picture: a stub is a log that thins evenly; where the taper would bring it to nothing it simply ends.
    Errs high for a hollow butt: take the decay off the density first.
    Parameters: butt diameter [m], taper [m/m], density [kg/m3], all (N,); stub lengths [m] (B,), or (N, B)
    where every sample has its own.
    Source: geometry, integrals of pi/4 (d - t s)^2.
    Checked by: tests/unit/contact/test_plate.py
    """
    d, t, rho = (np.atleast_1d(np.asarray(v, dtype=float))[:, None] for v in (butt_diameter, taper, density))
    length = np.atleast_2d(np.asarray(stubs, dtype=float))
    point = np.divide(d, t, out=np.full(np.broadcast_shapes(d.shape, t.shape), np.inf), where=t > 0.0)
    b = np.minimum(length, point)
    quarter = 0.25 * np.pi * rho
    mass = quarter * (d**2 * b - d * t * b**2 + t**2 * b**3 / 3.0)
    arm = quarter * (d**2 * b**2 / 2.0 - 2.0 * d * t * b**3 / 3.0 + t**2 * b**4 / 4.0)
    return mass, arm


def hinge_moments(plate: PlateSamples, stubs: ArrayLike) -> Array:
    """Moment about the hinge line for each sample and stub length [N m], (N, B), + stands the stub up.

    Picture: plate weight times how far its centre hangs behind the hinge line, less stub weight times how far its
    centre reaches in front of it, plus what the bent roots push. On soft ground the edge sinks in and the true
    hinge line lies further back, so this errs towards standing up.

    Parameters: samples (N,), stub lengths [m] (B,) or (N, B).
    Raises: BadInput when a size is not above zero, a stub is negative, or the stem stands steeper than 80 degrees.
    Source: mechanics: M = W (R sin i + t/2 cos i) - g (S cos i - m R sin i) + roots, i the slope, m and S the mass
    and first moment of the stub.
    Checked by: tests/unit/contact/test_plate.py (closed forms and potential energy)
    """
    _check(plate, stubs)
    column = {name: np.atleast_1d(np.asarray(v, dtype=float))[:, None] for name, v in plate.__dict__.items()}
    radius = 0.5 * column["diameter"]
    rise, run = np.sin(column["slope"]), np.cos(column["slope"])
    mass, arm = stub_mass_and_arm(plate.butt_diameter, plate.taper, plate.wood_density, stubs)
    behind = radius * rise + 0.5 * column["thickness"] * run
    in_front = arm * run - mass * radius * rise
    moment: Array = GRAVITY * (column["mass"] * behind - in_front) + column["spring_back"]
    return moment


def plate_states(plate: PlateSamples, stubs: ArrayLike) -> tuple[PlateState, ...]:
    """What the plate does for each stub length [m] (B,): outcome, moment range and share of the samples.

    Picture: where the moment beats what holds, the plate moves that way; otherwise it stays. An outcome is named
    only when 90 % of the samples agree, else "not enough is known": then treat it as able to go either way.
    "Stays" is no promise: a loaded hinge of roots can let go later.

    Source: see `hinge_moments`.
    Checked by: tests/unit/contact/test_plate.py
    """
    moments = hinge_moments(plate, stubs)
    holding = np.atleast_1d(np.asarray(plate.holding, dtype=float))[:, None]
    up, down = np.mean(moments > holding, axis=0), np.mean(moments < -holding, axis=0)
    lengths = np.atleast_1d(np.asarray(stubs, dtype=float))
    return tuple(_state(float(b), moments[:, k], float(up[k]), float(down[k])) for k, b in enumerate(lengths))


def flip_stub(plate: PlateSamples, longest: float) -> Array:
    """Stub length at which each sample turns from standing up to falling forward [m], (N,); inf beyond `longest`.

    Picture: with a short stub the plate wins, with a long one the stub does; here they balance. 0 where even the
    bare plate falls forward. Friction and soil are left out: round this length the plate stays.

    Parameters: samples (N,), longest stub looked at [m].
    Source: root of `hinge_moments` on its falling branch, by halving.
    Checked by: tests/unit/contact/test_plate.py
    """
    # on a rising stem the first bit of stub is still behind the hinge line and helps the plate
    slope = np.maximum(np.asarray(plate.slope, dtype=float), 0.0)
    start = 0.5 * np.asarray(plate.diameter, dtype=float) * np.tan(slope)
    count = hinge_moments(plate, [0.0]).shape[0]
    low = np.broadcast_to(np.minimum(start, longest), (count,)).reshape(-1, 1).astype(float)
    high = np.full((count, 1), float(longest))
    never, always = hinge_moments(plate, high) > 0.0, hinge_moments(plate, low) <= 0.0
    for _ in range(50):
        middle = 0.5 * (low + high)
        stands = hinge_moments(plate, middle) > 0.0
        low, high = np.where(stands, middle, low), np.where(stands, high, middle)
    flip: Array = np.where(never, np.inf, np.where(always, 0.0, 0.5 * (low + high)))[:, 0]
    return flip


def reach_forward(diameter: float, thickness: float) -> float:
    """How far from the hinge line the plate can strike when it falls forward [m]: its far corner.

    Picture: nobody stands nearer the plate than it is high. A stub longer than this keeps the plate off whoever
    is at the cut.
    Source: geometry.
    Checked by: tests/unit/contact/test_plate.py
    """
    return float(np.hypot(diameter, thickness))


def _state(stub: float, moments: Array, up: float, down: float) -> PlateState:
    share = {STANDS: up, STAYS: max(1.0 - up - down, 0.0), FALLS: down}
    best = max(share, key=lambda outcome: share[outcome])
    return PlateState(stub, best if share[best] >= SURE else UNKNOWN, Range.of_samples(moments), share)


def _check(plate: PlateSamples, stubs: ArrayLike) -> None:
    sizes = (plate.mass, plate.diameter, plate.thickness, plate.butt_diameter, plate.wood_density)
    if any(np.min(np.asarray(v, dtype=float)) <= 0.0 for v in sizes):
        raise BadInput("The root plate needs a mass, a diameter, a thickness, a butt and a density above zero.")
    if np.min(np.asarray(plate.taper, dtype=float)) < 0.0 or np.min(np.asarray(plate.holding, dtype=float)) < 0.0:
        raise BadInput("Taper and what holds the root plate cannot be negative.")
    if np.min(np.asarray(stubs, dtype=float)) < 0.0:
        raise BadInput("A stub cannot have a negative length.")
    if np.max(np.abs(np.asarray(plate.slope, dtype=float))) > np.radians(80.0):
        raise BadInput("The stem stands too steeply at the butt for the tree to lie on its root plate's edge.")
