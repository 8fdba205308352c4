"""Pieces caught by a rope: peak pull by energy with the published correction, and letting it run."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range

LOW_BY = 0.7  # Weber (2002): the energy model is up to 30 % low where weight or fall factor is high
HIGH_FALL_FACTOR = 0.25  # from here the correction is taken in full (judgement; the abstract gives no number)
HIGH_STRETCH = 0.05  # weight over rope modulus from which a piece is heavy for its rope (judgement)


@dataclass(frozen=True)
class Caught:
    """A piece caught by a rope: pulls [N], the fall over the rope in it [-], and whether the correction was taken."""

    peak: Range
    energy_model: float
    over_weight: float
    fall_factor: float
    corrected: bool
    words: str


def peak_pull(weight: float, fall: float, rope: float, modulus: float) -> float:
    """Peak pull in a rope that catches a falling piece [N]: W + sqrt(W^2 + 2 k W h) with k = modulus / length.

    Picture: the fall's energy goes into stretching a springy rope; no slip, no give in the tree, no damping. A fall
    of nothing still gives twice the weight. Errs high where the rope slips or the stem sways, up to 30 % low at a
    high weight or fall factor (see `caught`).
    Parameters: weight [N]; fall before the rope is taut and rope in the system [m]; modulus [N], pull that would
    double its length on a straight line. Raises: BadInput.
    Source: Goldstone, Standard equation for impact force; energy of a spring.
    Checked by: tests/handbook/test_caught_falls.py
    """
    if weight <= 0.0 or fall < 0.0 or rope <= 0.0 or modulus <= 0.0:
        raise BadInput("A caught piece needs weight, rope length and rope stiffness above zero, and a fall not below.")
    return weight + math.sqrt(weight**2 + 2.0 * modulus / rope * weight * fall)


def caught(weight: float, fall: float, rope: float, modulus: float) -> Caught:
    """Peak pull of a caught piece as a range [N], with the published correction taken where weight or fall is high.

    Low is the energy model as it stands. High is that over 0.7. Likely is the model for a light piece and a short
    fall, and the corrected one otherwise: that errs to the careful side.
    Parameters: as `peak_pull` [N], [m]. Raises: BadInput.
    Source: Weber (2002), Analysis of impact force equations, ITRS (abstract): good at low weight and fall factor,
    up to 30 % low at high ones. Where "high" begins is not printed there; the limits here are judgement.
    Checked by: tests/handbook/test_caught_falls.py
    """
    model = peak_pull(weight, fall, rope, modulus)
    factor = fall / rope
    high = factor >= HIGH_FALL_FACTOR or weight / modulus >= HIGH_STRETCH
    corrected = model / LOW_BY
    words = f"caught after a fall of {fall:.1f} m on {rope:.1f} m of rope: about {model / weight:.1f} times its weight"
    if high:
        words += f", up to {corrected / weight:.1f} times as published tests were up to 30 % above the sum"
    return Caught(Range(model, corrected if high else model, corrected), model, model / weight, factor, high, words)


def letting_run(weight: float, fall: float, run: float) -> float:
    """Mean pull while a piece is let run to a stop [N]: W (1 + fall / run).

    Picture: a steady brake takes the fall's energy over the run. Errs low: a hand brake is not steady, so the peak
    is higher.
    Parameters: weight [N]; free fall before the brake bites and run until it stops [m]. Raises: BadInput.
    Source: work and energy.
    Checked by: tests/handbook/test_caught_falls.py
    """
    if weight < 0.0 or fall < 0.0 or run <= 0.0:
        raise BadInput("Letting a piece run needs a run above zero, and a weight and fall not below zero.")
    return weight * (1.0 + fall / run)


def old_rule(weight: float, fall_feet: float) -> float:
    """Impact by the climbers' old rule [N]: (fall in feet + 1) x weight. For comparison only; it knows no rope.

    Parameters: weight [N]; fall_feet, the fall counted in feet [-].
    Source: arborists' rule quoted on a trade forum.
    Checked by: tests/handbook/test_caught_falls.py
    """
    return weight * (fall_feet + 1.0)
