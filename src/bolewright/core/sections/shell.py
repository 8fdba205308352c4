"""A round section with the sound shell measured by drilling or sounding at clock positions."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.sections.polygon import Moments, polygon_moments, section_of
from bolewright.core.sections.rounds import solid_round
from bolewright.core.sections.section import Section, circle_reach, clock_vector

Floats = NDArray[np.float64]
HOURS: Floats = np.arange(720) / 60.0  # every half degree


def measured_shell(diameter: float, readings: Sequence[tuple[float, float]]) -> Section:
    """The section left by shell depths [m] read inwards from the outside at clock positions (hours, depth).

    Depth is linear between readings, round the clock; one reading means the same shell all round. A depth of zero is
    an opening, a depth of the radius or more is sound to the centre. Decay between two readings that neither met is
    not seen: few readings err high.

    Raises BadInput for no reading, a negative depth, two depths at one clock position, or no wood left.

    Source: geometry; inner outline as a polygon, Green's theorem.
    Checked by: tests/handbook/test_hollow_sections.py
    """
    radius = float(np.sqrt(solid_round(diameter).area / np.pi))
    depth = shell_depth(HOURS, readings)
    void = np.maximum(radius - depth, 0.0)[:, None] * clock_vector(HOURS)
    hole = polygon_moments(void)
    stretch = (np.pi / 360.0) / np.sin(np.pi / 360.0)  # a 720-sided void to the area of the smooth one
    hole = Moments(hole.area * stretch, hole.first * stretch, hole.second * stretch)
    solid = Moments(np.pi * radius**2, np.zeros(2), np.pi / 4.0 * radius**4 * np.eye(2))
    left = solid.minus(hole)
    if left.area < 1e-6 * solid.area:
        raise BadInput("No sound wood is left in this section.", "tree.decay")
    rim = radius * clock_vector(HOURS)
    wall = depth > 0.0
    section = section_of(left, np.concatenate([rim[wall], void[wall]]))
    if np.all(wall):
        return Section(section.area, section.centroid, section.inertia, circle_reach(-section.centroid, radius))
    return section


def shell_depth(clock: ArrayLike, readings: Sequence[tuple[float, float]]) -> Floats:
    """Shell depth [m] at clock positions (hours, any shape) by straight lines between the readings, round the clock.

    Source: house rule for the depth between readings.
    Checked by: tests/unit/sections/test_shell.py
    """
    if not readings:
        raise BadInput("Give at least one shell reading.", "tree.decay.readings")
    clocks, depths = np.array(sorted((clock % 12.0, depth) for clock, depth in readings), dtype=float).T
    if np.any(depths < 0.0) or not np.all(np.isfinite(depths)):
        raise BadInput("A shell depth cannot be negative.", "tree.decay.readings")
    if np.any(np.diff(clocks) < 1e-9):
        raise BadInput("Two shell readings have the same clock position.", "tree.decay.readings")
    return np.asarray(np.interp(np.asarray(clock, float), clocks, depths, period=12.0))
