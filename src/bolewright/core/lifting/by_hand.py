"""Lifting by hand by the revised NIOSH equation, and pushing and pulling."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bolewright.core.base.errors import BadInput

LOAD_CONSTANT = 23.0  # kg
LOAD_CONSTANT_POUNDS = 51.0  # lb: the inch-pound form is rounded by itself
NEAREST, FARTHEST = 0.25, 0.63  # m, hands in front of the ankles
HIGHEST, KNUCKLE, LEAST_TRAVEL, MOST_TURN = 1.75, 0.75, 0.25, 135.0


@dataclass(frozen=True)
class HandLift:
    """One lift: hands `forward` of the ankles and `height` up at the start, raised by `travel`, body `turned`."""

    forward: float  # m
    height: float  # m
    travel: float = LEAST_TRAVEL  # m
    turned: float = 0.0  # degrees
    frequency: float = 1.0  # multiplier for how often
    coupling: float = 1.0  # multiplier for the grip


def hand_limit(lift: HandLift) -> float:
    """Recommended weight limit as a mass [kg] for one person, two hands, on firm dry footing; 0 beyond its reach.

    Picture: 23 kg at best, less for every handicap. Wet ground, one hand, bark without a hold, a load that shifts or
    two people out of step are outside the equation: errs high for tree work.
    Parameters: a lift in SI [m]. Raises: BadInput.
    Source: NIOSH 94-110 (1994, rev. 9/2021), RWL = LC HM VM DM AM FM CM, metric form.
    Checked by: tests/handbook/test_handling.py
    """
    _sensible(lift)
    if lift.forward > FARTHEST or lift.height > HIGHEST or lift.turned > MOST_TURN:
        return 0.0
    reach = NEAREST / max(lift.forward, NEAREST)
    height = 1.0 - 0.3 * abs(lift.height - KNUCKLE)
    travel = 0.82 + 0.045 / max(lift.travel, LEAST_TRAVEL)
    return LOAD_CONSTANT * reach * height * travel * (1.0 - 0.0032 * lift.turned) * lift.frequency * lift.coupling


def hand_limit_pounds(forward: float, height: float, travel: float, turned: float, others: float) -> float:
    """The same by the inch-pound form as printed, rounded by itself (about 2 % above the metric one): [lb] from [in].

    Parameters: inches, degrees; others [-], frequency times coupling multiplier.
    Source: NIOSH 94-110: LC 51 lb, HM 10/H, VM 1 - 0.0075 |V - 30|, DM 0.82 + 1.8/D, AM 1 - 0.0032 A.
    Checked by: tests/handbook/test_handling.py
    """
    if forward > 25.0 or height > 70.0 or turned > MOST_TURN:
        return 0.0
    factors = 10.0 / max(forward, 10.0) * (1.0 - 0.0075 * abs(height - 30.0)) * (0.82 + 1.8 / max(travel, 10.0))
    return LOAD_CONSTANT_POUNDS * factors * (1.0 - 0.0032 * turned) * others


def _sensible(lift: HandLift) -> None:
    if min(lift.forward, lift.height, lift.travel, lift.turned) < 0.0:
        raise BadInput("Distances and turn of a lift by hand are not negative.")
    if not (0.0 <= lift.frequency <= 1.0 and 0.0 <= lift.coupling <= 1.0):
        raise BadInput("The multipliers for frequency and grip lie between 0 and 1.")


def lifting_index(mass: float, limit: float) -> float:
    """How many times the recommended limit a load is [-]; above 1 more people or a machine.

    Parameters: masses [kg]. Raises: BadInput when the limit is 0.
    Source: NIOSH 94-110, LI = load / RWL.
    Checked by: tests/handbook/test_handling.py
    """
    if limit <= 0.0:
        raise BadInput("Out of reach: no load is recommended for this lift at all.")
    return mass / limit


def frequency_multiplier(per_minute: float, table: Sequence[tuple[float, float]]) -> float:
    """The multiplier for lifts a minute [-], that of the next higher rate listed; 0 above the last.

    Parameters: per_minute [1/min]; table, (lifts a minute, multiplier) of one duration. Raises: BadInput.
    Source: NIOSH 94-110, Table 5.
    Checked by: tests/handbook/test_handling.py
    """
    if per_minute < 0.0:
        raise BadInput("Lifts a minute cannot be negative.")
    return next((factor for rate, factor in sorted(table) if per_minute <= rate + 1e-9), 0.0)


def push_inside(force: float, filter_force: float) -> bool:
    """Whether a push stays inside a published filter [N]; outside it, more people, a machine or boards.

    Parameters: forces [N].
    Source: HSE RR228 (Ferreira, Boocock and Gray 2004), to start or stop, up to 20 m.
    Checked by: tests/handbook/test_handling.py
    """
    return force <= filter_force
