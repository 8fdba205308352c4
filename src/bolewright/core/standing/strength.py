"""What the stem carries at each place: section moduli round the compass, for several shell depths at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.sections import (
    Kept,
    Section,
    clock_vector,
    measured_shell,
    shell_depth,
    solid_round,
    strength_kept,
)
from bolewright.core.standing.decay import Readings, opened_shell

Floats = NDArray[np.float64]
STEPS = 72
DIRECTIONS: Floats = np.arange(STEPS) * 2.0 * np.pi / STEPS  # of a push, from forward (x) towards left (y)
CLOCKS: Floats = (6.0 + DIRECTIONS * 6.0 / np.pi) % 12.0  # of a plumb stem, seen from butt to tip: forward is 6, left 9


@dataclass(frozen=True)
class Strength:
    """One place along the stem. E shell errors, 72 directions of push."""

    diameter: float  # [m] of the wood
    errors: Floats  # (E,) [m] added to every shell depth
    modulus: Floats  # (E, 72) [m3] the smaller of both sides
    area: Floats  # (E,) [m2]
    inertia: Floats  # (72,) [m4] with no error
    kept: Kept  # with no error, against the sound section


def sound_strength(diameter: float) -> Strength:
    """A sound place of this diameter of wood [m].

    Source: Z = pi D3/32.
    Checked by: tests/unit/standing/test_strength.py
    """
    section = solid_round(diameter)
    return _table(diameter, np.zeros(1), [section])


def decayed_strength(
    diameter: float, readings: Readings, opening: tuple[float, float] | None = None, errors: ArrayLike = (0.0,)
) -> Strength:
    """A place with shell depths [m] at clock positions, and perhaps an opening (clock, width [m] along the bark).

    For every error [m] the whole shell is that much deeper or thinner, never beyond the centre and never below a
    millimetre where there was wood: a depth that was read as nothing stays nothing.

    Raises BadInput for a shell thicker than the radius, or no wood left.

    Source: core.sections.measured_shell.
    Checked by: tests/unit/standing/test_strength.py, tests/handbook/test_decay_published.py
    """
    radius = diameter / 2.0
    for clock, depth in readings:
        if depth > radius * 1.02 + 1e-6:
            raise BadInput(
                f"{depth * 100:.1f} cm of sound wood at {clock:g} o'clock is more than the radius of the wood there, "
                f"{radius * 100:.1f} cm: measure one of them again.",
                "inspection.test",
            )
    whole = opened_shell(diameter, readings, opening) if opening else tuple(readings)
    given = np.asarray(errors, float)
    sections = [measured_shell(diameter, _shifted(whole, float(error), radius)) for error in given]
    return _table(diameter, given, sections)


def _shifted(readings: Readings, error: float, radius: float) -> Readings:
    moved = [(c, float(np.clip(d + error, 1e-3, radius)) if d > 0.0 else 0.0) for c, d in readings]
    return tuple(moved)


def _table(diameter: float, errors: Floats, sections: Sequence[Section]) -> Strength:
    plain = sections[int(np.argmin(np.abs(errors)))]
    return Strength(
        diameter=diameter,
        errors=errors,
        modulus=np.stack([section.modulus(CLOCKS) for section in sections]),
        area=np.array([section.area for section in sections]),
        inertia=np.asarray(plain.second_moment(CLOCKS)),
        kept=strength_kept(plain, solid_round(diameter)),
    )


def modulus_at(strength: Strength, error: ArrayLike, direction: ArrayLike) -> Floats:
    """Section modulus [m3] for shell errors [m] and directions of push [rad] of one shape (...).

    Linear between the errors and directions tabled: a fifth of a percent low on a smooth shell tabled every centimetre.

    Source: interpolation.
    Checked by: tests/unit/standing/test_strength.py
    """
    turn = np.asarray(direction, float) / (2.0 * np.pi) * STEPS % STEPS
    low = np.floor(turn).astype(np.int64) % STEPS
    share = turn - np.floor(turn)
    if strength.errors.size == 1:
        row = strength.modulus[0]
        return np.asarray(row[low] * (1.0 - share) + row[(low + 1) % STEPS] * share)
    e, rest = _between(strength.errors, np.broadcast_to(np.asarray(error, float), turn.shape))
    table = strength.modulus

    def along(row: NDArray[np.int64]) -> Floats:
        return np.asarray(table[row, low] * (1.0 - share) + table[row, (low + 1) % STEPS] * share)

    return np.asarray(along(e) * (1.0 - rest) + along(e + 1) * rest)


def area_at(strength: Strength, error: ArrayLike) -> Floats:
    """Area of wood [m2] for shell errors [m] (...).

    Source: interpolation.
    Checked by: tests/unit/standing/test_strength.py
    """
    return np.asarray(np.interp(np.asarray(error, float), strength.errors, strength.area))


def _between(errors: Floats, given: Floats) -> tuple[NDArray[np.int64], Floats]:
    inside = np.clip(given, errors[0], errors[-1])
    low = np.clip(np.searchsorted(errors, inside, side="right") - 1, 0, errors.size - 2)
    return low, np.asarray((inside - errors[low]) / (errors[low + 1] - errors[low]))


def loss_band(strength: Strength, shell: Range) -> Range:
    """Share of bending strength lost [-] in the weakest direction, over the error of every shell depth (`shell`, m).

    Source: section modulus against the sound place, between the shells tabled.
    Checked by: tests/unit/standing/test_strength.py
    """
    sound = np.pi * strength.diameter**3 / 32.0
    weakest = strength.modulus.min(axis=1)
    at = np.interp([shell.high, shell.likely, shell.low], strength.errors, weakest)
    low, _, high = (float(max(1.0 - z / sound, 0.0)) for z in at)
    likely = max(1.0 - strength.kept.strength_worst, 0.0)
    return Range(min(low, likely), likely, max(high, likely))


def outline_of(
    diameter: float, readings: Readings, opening: tuple[float, float] | None = None
) -> tuple[Floats, Floats]:
    """Outer and inner outline (n, 2) [m] of a measured section, first axis to 3 o'clock, second to 12.

    A corner every five degrees, at every reading, and at the lips of the opening, where the two outlines meet.

    Source: geometry, depth linear between readings.
    Checked by: tests/handbook/test_decay_published.py
    """
    whole = opened_shell(diameter, readings, opening) if opening else tuple(readings)
    hours = np.unique(np.concatenate([np.arange(STEPS) * 12.0 / STEPS, [clock % 12.0 for clock, _ in whole]]))
    way = clock_vector(hours)
    inner = np.maximum(diameter / 2.0 - shell_depth(hours, whole), 0.0)
    return diameter / 2.0 * way, inner[:, None] * way
