"""How much strength a decayed section keeps, exactly and by the one-line formulas people know."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.sections.section import Section

Floats = NDArray[np.float64]
HALF_CLOCK: Floats = np.arange(1, 721) / 120.0  # a load towards h or h + 6 bends the same; 0 < h <= 6


@dataclass(frozen=True)
class Kept:
    """Shares of the sound section's area, bending strength and stiffness that are left, 0..1."""

    area: float
    strength_worst: float
    worst_clock: float  # 0 < h <= 6: a load towards h, or the opposite way, finds it weakest
    strength_best: float
    stiffness_worst: float
    stiffness_best: float


@dataclass(frozen=True)
class FormulaLoss:
    """A published one-line loss and how far it lies from the loss computed from the shape (minus: too hopeful)."""

    name: str
    source: str
    loss: float
    error: float


def strength_kept(section: Section, sound: Section) -> Kept:
    """What a section keeps of its sound self [-], in the worst and the best bending direction.

    Elastic bending of the wood that is left, all of it as strong as sound wood: thin walls may flatten or crack
    first (see `wall_mode`), and soft wood at the edge of decay counts fully, so the answer errs high.

    Source: bending stress M c/I; directions half a minute of the clock apart.
    Checked by: tests/handbook/test_hollow_sections.py
    """
    strength = strength_kept_towards(section, sound, HALF_CLOCK)
    soft, stiff, _ = section.principal()
    sound_soft, sound_stiff, _ = sound.principal()
    worst = int(np.argmin(strength))
    return Kept(
        area=section.area / sound.area,
        strength_worst=float(strength[worst]),
        worst_clock=float(HALF_CLOCK[worst]),
        strength_best=float(np.max(strength)),
        stiffness_worst=soft / sound_stiff,
        stiffness_best=stiff / sound_soft,
    )


def strength_kept_towards(section: Section, sound: Section, clock: ArrayLike) -> Floats:
    """Share [-] of bending strength kept when the load acts towards clock positions (hours, any shape).

    Source: ratio of section moduli.
    Checked by: tests/handbook/test_hollow_sections.py
    """
    return np.asarray(section.modulus(clock) / sound.modulus(clock))


def wagener_loss(cavity_share: ArrayLike) -> Floats:
    """Strength loss [-] by (d/D)^3, d/D cavity over stem diameter: the cautious rule for a centred hollow.

    Source: Wagener 1963, as tabulated in Arboriculture & Urban Forestry ("Equations used to evaluate strength loss").
    Checked by: tests/handbook/test_hollow_sections.py
    """
    return np.asarray(np.asarray(cavity_share, float) ** 3)


def coder_loss(cavity_share: ArrayLike) -> Floats:
    """Strength loss [-] by (d/D)^4, exact for a centred round hollow and hopeful for any other.

    Source: Coder 1989, as tabulated in Arboriculture & Urban Forestry.
    Checked by: tests/handbook/test_hollow_sections.py
    """
    return np.asarray(np.asarray(cavity_share, float) ** 4)


def smiley_fraedrich_loss(cavity_share: ArrayLike, opening_share: ArrayLike) -> Floats:
    """Strength loss [-] by (d3 + r (D3 - d3))/D3, r opening width over circumference; blind to the load direction.

    Source: Smiley and Fraedrich 1992, Journal of Arboriculture 18(4):201-204.
    Checked by: tests/handbook/test_hollow_sections.py
    """
    hollow = wagener_loss(cavity_share)
    return np.asarray(hollow + np.asarray(opening_share, float) * (1.0 - hollow))


def formulas_beside(kept: Kept, cavity_share: float, opening_share: float = 0.0) -> tuple[FormulaLoss, ...]:
    """The three familiar formulas beside the loss in the worst direction computed from the shape [-].

    Source: the works named in each.
    Checked by: tests/handbook/test_hollow_sections.py
    """
    computed = 1.0 - kept.strength_worst
    losses = (
        ("(d/D)^3", "Wagener 1963", float(wagener_loss(cavity_share))),
        ("(d/D)^4", "Coder 1989", float(coder_loss(cavity_share))),
        ("with opening", "Smiley and Fraedrich 1992", float(smiley_fraedrich_loss(cavity_share, opening_share))),
    )
    return tuple(FormulaLoss(name, source, loss, loss - computed) for name, source, loss in losses)


def wall_mode(shell: float, radius: float) -> str:
    """How a closed hollow stem with this shell and radius [m] is expected to give way.

    "flattening" and "cracking" come before the bending strength computed here is reached. Not for stems with an
    opening.

    Source: Huang et al. 2017, Royal Society Open Science 4:160972: t/R 0-0.06, 0.06-0.27, above.
    Checked by: tests/unit/sections/test_kept.py
    """
    ratio = shell / radius
    if ratio < 0.06:
        return "flattening"
    return "cracking" if ratio < 0.27 else "bending"
