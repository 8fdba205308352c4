"""Closed forms: solid round, hollow, off-centre cavity, open ring and ellipse."""

from __future__ import annotations

import numpy as np

from bolewright.core.base.errors import BadInput
from bolewright.core.sections.section import Floats, Reach, Section, circle_reach, clock_vector

CENTRE: Floats = np.zeros(2)


def solid_round(diameter: float) -> Section:
    """A sound round section of this outside diameter [m].

    Bark carries nothing: use the diameter inside bark for strength, or the answer is high by 3 % per 1 % of diameter.

    Raises BadInput for a diameter that is not positive.

    Source: I = pi D4/64, Z = pi D3/32, any text on the strength of materials.
    Checked by: tests/handbook/test_hollow_sections.py
    """
    return off_centre(diameter, 0.0, 0.0, 12.0)


def hollow_round(diameter: float, cavity: float) -> Section:
    """A round section with a round cavity [m] in its middle.

    Source: I = pi (D4 - d4)/64.
    Checked by: tests/handbook/test_hollow_sections.py
    """
    return off_centre(diameter, cavity, 0.0, 12.0)


def off_centre(diameter: float, cavity: float, offset: float, clock: float) -> Section:
    """A round section with a round cavity whose centre lies `offset` [m] from the stem's centre towards `clock`.

    Decay on one side moves the centroid away from it: the fibre next to the cavity works hardest, and the loss is two
    to seven times what the one-line formulas say.

    Raises BadInput where the cavity breaks out of the stem: measure it as an open ring or by readings.

    Source: moments of plane figures, parallel-axis theorem.
    Checked by: tests/handbook/test_hollow_sections.py
    """
    outer, inner = _radii(diameter, cavity)
    if abs(offset) + inner > outer * (1.0 + 1e-12):
        raise BadInput(
            "The cavity breaks out of the stem: give the opening, or shell readings round the clock.", "tree.decay"
        )
    towards = clock_vector(clock)
    area = np.pi * (outer**2 - inner**2)
    hole = np.pi * inner**2
    centroid = -towards * offset * hole / area
    about_centre = np.pi / 4.0 * (outer**4 - inner**4) * np.eye(2) - hole * offset**2 * np.outer(towards, towards)
    inertia = about_centre - area * np.outer(centroid, centroid)
    return Section(float(area), centroid, inertia, circle_reach(-centroid, outer))


def ellipse(long_axis: float, short_axis: float, clock: float = 12.0) -> Section:
    """A sound elliptic section; `clock` is where its long axis points. Axes are full lengths [m].

    Raises BadInput for an axis that is not positive.

    Source: I = pi a b3/4 with the half axes.
    Checked by: tests/handbook/test_hollow_sections.py
    """
    a, _ = _radii(long_axis, 0.0)
    b, _ = _radii(short_axis, 0.0)
    u = clock_vector(clock)
    turn = np.stack([u, np.array([u[1], -u[0]])])  # rows: long axis, short axis
    inertia = turn.T @ np.diag([np.pi / 4.0 * a**3 * b, np.pi / 4.0 * a * b**3]) @ turn
    half = np.array([a, b])
    return Section(np.pi * a * b, CENTRE, inertia, lambda g: np.asarray(np.linalg.norm((g @ turn.T) * half, axis=-1)))


def open_ring(diameter: float, shell: float, opening: float, clock: float) -> Section:
    """A hollow round section whose wall is missing over `opening` [rad] centred on `clock`; `shell` [m] elsewhere.

    The edges of the opening are taken as cut along radii. An open tube also twists easily and its lips can buckle or
    split: that is not in these numbers, so they err high for a wide opening in a thin wall.

    Raises BadInput when the opening is not between 0 and a full turn, or the shell is not between 0 and the radius.

    Source: integrals of the ring sector in polar coordinates, parallel-axis theorem.
    Checked by: tests/handbook/test_hollow_sections.py
    """
    outer, inner = _radii(diameter, diameter - 2.0 * shell)
    if not 0.0 < opening < 2.0 * np.pi:
        raise BadInput("The opening must be more than nothing and less than all the way round.", "tree.decay.opening")
    half = opening / 2.0
    u = clock_vector(clock)
    v = np.array([u[1], -u[0]])
    area = (np.pi - half) * (outer**2 - inner**2)
    shift = -2.0 / 3.0 * np.sin(half) * (outer**3 - inner**3) / area
    ring, bulge = (outer**4 - inner**4) / 4.0, np.sin(half) * np.cos(half)
    along = ring * ((np.pi - half) - bulge) - area * shift**2
    across = ring * ((np.pi - half) + bulge)
    inertia = along * np.outer(u, u) + across * np.outer(v, v)
    return Section(float(area), shift * u, inertia, _arc_reach(outer, inner, half, u, shift))


def _arc_reach(outer: float, inner: float, half: float, u: Floats, shift: float) -> Reach:
    """Reach of a ring open over +-half about u: its outer arc, or the four corners of the opening."""
    v = np.array([u[1], -u[0]])
    ways = [np.cos(half) * u + side * np.sin(half) * v for side in (1.0, -1.0)]
    corners = np.array([radius * way for radius in (outer, inner) for way in ways])
    centroid = shift * u

    def reach(g: Floats) -> Floats:
        size = np.linalg.norm(g, axis=-1)
        in_wall = g @ u < size * np.cos(half)
        at_corners = np.max(g @ corners.T, axis=-1)
        return np.asarray(np.where(in_wall, outer * size, at_corners) - g @ centroid)

    return reach


def _radii(diameter: float, cavity: float) -> tuple[float, float]:
    """Outer and inner radius, refused where they describe no section."""
    if not 0.0 < diameter < np.inf:
        raise BadInput(f"A section needs a diameter above zero, not {diameter:g} m.", "diameter")
    if not 0.0 <= cavity < diameter:
        raise BadInput(
            "The cavity must be smaller than the stem it is in, and the shell thicker than nothing.", "tree.decay"
        )
    return diameter / 2.0, cavity / 2.0
