"""Centre lines of members: the stem's from its stations, a limb's from its parent's centre line, clock and angle."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.vectors import clock_direction, unit
from bolewright.core.tree.spec import STEM, Limb, Station

Floats = NDArray[np.float64]
CLOSE = 1e-6  # two marks on a member nearer than this are one mark
OVERLONG = 1.01  # a rise this much longer than the stem between two stations is still a rounding of a plumb stem


@dataclass(frozen=True)
class Line:
    """A member's centre line as straight runs between nodes, with the diameter linear along each run."""

    member: str
    s: Floats  # (n,) distance along the member, rising
    points: Floats  # (n, 3)
    diameters: Floats  # (n,)
    stub: float  # length from s = 0 inside the parent's wood
    parent: int  # index of the parent member, -1 for the stem
    at: float  # distance along the parent

    @property
    def length(self) -> float:
        """Distance along the member of its tip."""
        return float(self.s[-1])

    def points_at(self, s: ArrayLike) -> Floats:
        """Points (n, 3) of the centre line at distances (n,)."""
        where = np.atleast_1d(np.asarray(s, dtype=float))
        return np.stack([np.interp(where, self.s, self.points[:, k]) for k in range(3)], axis=-1)

    def diameters_at(self, s: ArrayLike) -> Floats:
        """Outside diameters (n,) at distances (n,)."""
        return np.asarray(np.interp(np.atleast_1d(np.asarray(s, dtype=float)), self.s, self.diameters))

    def tangent_at(self, s: float) -> Floats:
        """Unit vector along the run that holds s; at a joint, the run on the base side."""
        run = int(np.clip(np.searchsorted(self.s, s - CLOSE) - 1, 0, self.s.size - 2))
        return unit(self.points[run + 1] - self.points[run])


def stem_line(stations: Sequence[Station]) -> Line:
    """The stem's centre line: heights of the underside plus the half thickness, offsets, and forward distance from
    what is left of the length along the stem.

    The stem is straight between stations; sag between them is not seen, so a bowed stem comes out a little too long.

    Parameters: stations in [m], at least two, rising. Raises BadInput when the stem would have to rise or swing more
    than its own length between two stations.
    Source: geometry.
    Checked by: tests/unit/tree/test_axis.py
    """
    s = np.array([station.at for station in stations], dtype=float)
    diameters = np.array([station.diameter for station in stations], dtype=float)
    y = -np.array([station.offset for station in stations], dtype=float)
    under = underside_heights(stations)
    z = under + diameters / 2.0 * _drop(_station_slopes(s, under, diameters / 2.0))
    ds, dy, dz = np.diff(s), np.diff(y), np.diff(z)
    left = ds**2 - dy**2 - dz**2
    for i in np.flatnonzero(dy**2 + dz**2 > (OVERLONG * ds) ** 2):
        value = "height" if abs(dz[i]) >= abs(dy[i]) else "offset"
        raise BadInput(
            f"The stem rises or swings {np.hypot(dy[i], dz[i]):.2f} m over only {ds[i]:.2f} m of its length; "
            f"check {value} and distance at this station and the one before.",
            f"tree.stem[{i + 1}].{value}",
        )
    x = np.concatenate(([0.0], np.cumsum(np.sqrt(np.maximum(left, 0.0)))))
    return Line(STEM, s, np.stack([x, y, z], axis=-1), diameters, 0.0, -1, 0.0)


def underside_heights(stations: Sequence[Station]) -> Floats:
    """Height [m] of the underside at every station (n,): linear between those taken, straight on beyond them but not
    under the ground, 0 everywhere when none was taken (the stem lies on the ground).

    Source: house rule.
    Checked by: tests/unit/tree/test_axis.py
    """
    s = np.array([station.at for station in stations], dtype=float)
    known = [i for i, station in enumerate(stations) if station.height is not None]
    if not known:
        return np.zeros(s.size)
    taken = np.array([stations[i].height for i in known], dtype=float)
    heights = np.asarray(np.interp(s, s[known], taken), dtype=float)
    if len(known) > 1:
        floor = min(0.0, float(taken.min()))
        _run_on(heights, s, (known[0], known[1]), slice(0, known[0]), floor)
        _run_on(heights, s, (known[-2], known[-1]), slice(known[-1] + 1, s.size), floor)
    return heights


def _run_on(heights: Floats, s: Floats, pair: tuple[int, int], where: slice, floor: float) -> None:
    a, b = pair
    slope = (heights[b] - heights[a]) / (s[b] - s[a])
    heights[where] = np.maximum(heights[a] + slope * (s[where] - s[a]), floor)


def _drop(slope: Floats) -> Floats:
    """Height of the centre line above the underside, in radii, measured plumb: 1/cos of the slope.

    Steeper than 45 degrees there is no underside a crew could measure to, so it runs out to nothing at plumb
    (2 cos, which joins 1/cos at 45 degrees): the heights of a standing stem are those of its centre line.
    """
    cosine = np.cos(slope)
    return np.asarray(np.minimum(1.0 / np.maximum(cosine, 1e-9), 2.0 * cosine))


def _station_slopes(s: Floats, under: Floats, radius: Floats) -> Floats:
    """Slope of the centre line at stations: the mean of the runs each side. The taper tilts it from the underside."""
    ds = np.diff(s)
    rise, taper = np.diff(under) / ds, np.diff(radius) / ds
    slope = np.arcsin(np.clip(rise, -1.0, 1.0))
    for _ in range(30):  # contracts by about the taper, some 1 %, each time
        slope = np.arcsin(np.clip(rise + taper * _drop(slope), -1.0, 1.0))
    ends = np.concatenate((slope[:1], slope, slope[-1:]))
    return np.asarray((ends[:-1] + ends[1:]) / 2.0)


def limb_line(limb: Limb, parent: Line, parent_index: int, path: str) -> Line:
    """A limb's centre line, straight from the parent's centre line; its base diameter holds up to the parent's bark.

    Parameters: limb in [m] and [rad], the parent's line and index, path of the limb for errors.
    Raises BadInput when the limb starts beyond its parent, in its parent's stub, or ends inside its parent.
    Source: geometry.
    Checked by: tests/unit/tree/test_axis.py
    """
    _check_base(limb, parent, path)
    along = parent.tangent_at(limb.at)
    outward = clock_direction(along, limb.clock)
    direction = along * np.cos(limb.angle_rad) + outward * np.sin(limb.angle_rad)
    base = parent.points_at(limb.at)[0]
    stub = stub_length(limb, parent)
    if stub >= limb.length - CLOSE:
        raise BadInput(
            f"Limb {limb.id} ends inside the wood of {limb.on}: at this angle its first {stub:.2f} m, counted from the "
            f"centre line of {limb.on}, lie under the bark. Give a greater length or a wider angle.",
            f"{path}.length",
        )
    s = np.array([0.0, stub, limb.length] if stub > 0.0 else [0.0, limb.length])
    diameters = np.full(s.size, limb.diameter)
    diameters[-1] = limb.tip_diameter
    return Line(limb.id, s, base + s[:, None] * direction, diameters, stub, parent_index, limb.at)


def stub_length(limb: Limb, parent: Line) -> float:
    """Length [m] of a limb's centre line inside its parent: to the bark at the side or to the end face, the nearer.

    The parent's taper beyond the attachment is left out, so it is a little long at narrow angles.

    Source: geometry.
    Checked by: tests/unit/tree/test_axis.py
    """
    radius = float(parent.diameters_at(limb.at)[0]) / 2.0
    sine, cosine = float(np.sin(limb.angle_rad)), float(np.cos(limb.angle_rad))
    to_bark = radius / sine if sine > 1e-9 else np.inf
    to_end = (parent.length - limb.at) / cosine if cosine > 1e-9 else np.inf
    stub = float(min(to_bark, to_end))
    return stub if stub > CLOSE else 0.0


def _check_base(limb: Limb, parent: Line, path: str) -> None:
    if limb.at > parent.length + CLOSE:
        raise BadInput(
            f"Limb {limb.id} starts at {limb.at:.2f} m but {limb.on} ends at {parent.length:.2f} m.", f"{path}.at"
        )
    if limb.at < parent.stub + CLOSE and limb.on != STEM:
        raise BadInput(
            f"Limb {limb.id} starts at {limb.at:.2f} m on {limb.on}, still inside the wood {limb.on} grows from "
            f"(its first {parent.stub:.2f} m). Distances on a limb count from the centre line of its parent.",
            f"{path}.at",
        )
