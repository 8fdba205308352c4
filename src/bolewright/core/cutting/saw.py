"""Where the sawyer stands: uphill, off the roll side, off the side that springs, beside the part that stays."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.vectors import FORWARD, UP, unit
from bolewright.core.cutting.bind import BindKind

Array = NDArray[np.float64]

RIGHT, LEFT = "right", "left"
FLAT = 0.05  # fall across the log per unit (3 degrees): below this neither side is uphill (common practice)


@dataclass(frozen=True)
class Stand:
    """side: "left" | "right" (looking butt to tip) | "either" | "none"; words: the whole advice.

    none: the rules contradict each other; the log must be secured first.
    """

    side: str
    words: str


def where_to_stand(
    kind: BindKind,
    compression_clock: float,
    axis: Array,
    rolls: str = "",
    downhill: Array | None = None,
    stays: str = "",
    spring_pole: bool = False,
) -> Stand:
    """The side of the log to stand on, and why, in words.

    Rolling decides first, then the slope, then the side that springs; when rolling and slope contradict each other
    there is no side to stand on before the log is secured. kind, compression_clock [h] from `bind.advise`; axis (3,)
    butt to tip; rolls: "left", "right" or "" (what either part does once cut); downhill (3,) vector of steepest fall
    of the ground, its length the fall per unit [-]; stays: "butt" or "tip", the part that does not drop.
    Source: 29 CFR 1910.266(h), bucking from the uphill side; chain saw operator manuals (uphill side); inside of the
    bend in a side bind: common practice.
    Checked by: tests/unit/cutting/test_bind.py.
    """
    off_roll = {LEFT: RIGHT, RIGHT: LEFT}.get(rolls, "")
    uphill = _uphill(axis, downhill)
    inside = _inside(kind, compression_clock)
    if off_roll and uphill and off_roll != uphill:
        words = (
            f"No side to stand on: it can roll to the {rolls}, which is uphill. Chock it or tie it back before the cut."
        )
        return Stand("none", words)
    side = off_roll or uphill or inside or "either"
    reasons = [f"it can roll to the {rolls}"] if off_roll else []
    reasons += ["that is uphill"] if uphill == side else []
    reasons += ["inside the bend, off the side that springs"] if inside == side else []
    words = _sentence(side, reasons, stays)
    if inside and inside != side:
        words += " The wood can spring towards you: saw from behind the part that stays, at arm's length."
    if kind is BindKind.TWIST:
        words += " The parts turn as they come apart: keep the bar and your legs clear of both."
    if spring_pole:
        words += " Keep out of the arc it sweeps; everyone else two tree lengths away."
    return Stand(side, words)


def _uphill(axis: Array, downhill: Array | None) -> str:
    """The uphill side, or nothing on ground level across the log."""
    if downhill is None:
        return ""
    along = np.asarray(axis, dtype=float) - UP * float(np.asarray(axis) @ UP)
    along = unit(along) if float(np.linalg.norm(along)) > 1e-6 else FORWARD
    fall = float(np.asarray(downhill) @ np.cross(along, UP))  # along x up is right
    if abs(fall) < FLAT:
        return ""
    return LEFT if fall > 0.0 else RIGHT


def _inside(kind: BindKind, clock: float) -> str:
    """The squeezed side of a side bind."""
    if kind is not BindKind.SIDE:
        return ""
    return RIGHT if clock % 12.0 < 6.0 else LEFT


def _sentence(side: str, reasons: list[str], stays: str) -> str:
    beside = f", beside the {stays} part, which stays" if stays else ""
    if side == "either":
        return f"Stand on either side{beside}, clear of what drops, with a way out behind you."
    return f"Stand on the {side}{beside}: {'; '.join(reasons)}. Keep a way out behind you."
