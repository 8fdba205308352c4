"""How a piece gets away from the tree: let fall, rolled, carried, lowered or lifted, and how long that takes.

The limits are the crew's own, entered with the job. The minutes are planning figures from common practice, meant to
be replaced by the company's own record.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.contact.actions import Array

HEAVY_PERCENT, TOUCH = 95.0, 1e-6
HANDS = 2.2  # m above what a person stands on: higher than this nothing is held by hand (common practice)
SUDDEN = {"crane pick": 1.0}  # every other way lets go all at once
LOW_ENOUGH_TO_ROLL = 0.6  # m of air under the wood, common practice


def in_kilograms(mass: float) -> str:
    """A mass in a sentence, where nobody says it otherwise.

    Plain: a number [kg] with its unit.
    """
    return f"{mass:.0f} kg"


def in_metres(length: float) -> str:
    """A length in a sentence, where nobody says it otherwise.

    Plain: a number [m] with its unit.
    """
    return f"{length:.1f} m"


@dataclass(frozen=True)
class HandlingLimits:
    """Most that may leave by each way [kg], 0 where there is none; drop_height [m] is the most it may fall.

    heaviest [kg] and longest [m]: logs that leave as one may be no more, where they cannot be cut again on the ground;
    a round no longer than split [m] may weigh in_split [kg], for it is split along the grain where it lands. passing
    says in words what sets that. mass_words and length_words put a number into a sentence, in the reader's units."""

    carry: float = 35.0
    drop: float = 150.0
    drop_height: float = 3.0
    roll: float = 300.0
    line: float = 0.0
    crane: float = 0.0
    heaviest: float = math.inf
    longest: float = math.inf
    passing: str = ""
    split: float = 0.0
    in_split: float = 0.0
    mass_words: Callable[[float], str] = in_kilograms
    length_words: Callable[[float], str] = in_metres

    def gets_out(self, mass: float, length: float) -> bool:
        """Whether a log of this mass [kg] and length [m] gets out: as it is, or split along the grain."""
        whole = mass <= self.heaviest * (1.0 + TOUCH) and length <= self.longest * (1.0 + TOUCH)
        return whole or (length <= self.split * (1.0 + TOUCH) and mass <= self.in_split * (1.0 + TOUCH))


@dataclass(frozen=True)
class PieceFacts:
    """Where the pieces are. mass (P, B) [kg]; over_building, over_protected (P,) bool; air (P,) [m] height of the
    lowest wood above the ground under it; cut_diameter (P,) [m] at the end nearer the butt. plate: the piece on the
    root plate, -1 for none; plate_word: what plate and stub do once cut free (stands up, stays, falls forward).
    reach (P,) [m]: height of the piece above what a person can stand on under it, ground or roof.

    log (P, B) [kg] and log_length (P,) [m]: of the wood too thick for the chipper, 0 elsewhere; log_on (P,): number of
    the member it is on."""

    mass: Array
    over_building: NDArray[np.bool_]
    over_protected: NDArray[np.bool_]
    air: Array
    cut_diameter: Array
    plate: int = -1
    plate_word: str = ""
    reach: Array | None = None
    log: Array | None = None
    log_length: Array | None = None
    log_on: NDArray[np.int64] | None = None


@dataclass(frozen=True)
class Way:
    """A way out. sudden: how many times the change of a support's force counts while it happens, 2 for a release
    all at once (a load that comes on at once doubles, Timoshenko & Young 1965), 1 where the hook already carries the
    piece. refused: why there is none, empty when there is."""

    method: str
    minutes: float
    sudden: float
    refused: str = ""


LEFT_ON_PLATE = "left on its root plate"
SAW_MINUTES_PER_M2 = 40.0  # common practice: a 0.5 m stem in about eight minutes with set-up of the cut
MINUTES = {"free drop": 4.0, "roll off": 8.0, "carry": 5.0, "lower on a line": 15.0, "crane pick": 15.0, "leave": 1.0}


def way_out(
    pieces: list[int], mass_high: float, facts: PieceFacts, limits: HandlingLimits, gentle: bool = False
) -> Way:
    """The quickest way allowed for these pieces leaving as one (the gentlest when asked), or the reason there is none.

    pieces: indices. mass_high [kg]: heavy end of what they weigh together.
    Minutes err to either side by half; limits are taken as given.
    Source: common practice.
    Checked by: tests/unit/cutting/test_handling.py.
    """
    saw = SAW_MINUTES_PER_M2 * float(facts.cut_diameter[pieces[0]]) ** 2
    if facts.plate in pieces:
        return _off_the_plate(pieces, facts, saw)
    stuck = _does_not_get_out(pieces, facts, limits)
    if stuck:
        return Way("", 0.0, 2.0, stuck)
    over_roof, over_care = (bool(over[pieces].any()) for over in (facts.over_building, facts.over_protected))
    air = float(facts.air[pieces].max())
    clear = not over_roof and not over_care
    choices = {
        "roll off": clear and air <= LOW_ENOUGH_TO_ROLL and mass_high <= limits.roll,
        "free drop": clear and air <= limits.drop_height and mass_high <= limits.drop,
        "carry": mass_high <= limits.carry and _in_reach(pieces, facts),
        "lower on a line": mass_high <= limits.line,
        "crane pick": mass_high <= limits.crane,
    }
    possible = [m for m, allowed in choices.items() if allowed]
    if not possible:
        return Way("", 0.0, 2.0, _no_way(limits.mass_words(mass_high), over_roof, over_care))
    method = min(possible, key=lambda m: (SUDDEN.get(m, 2.0) if gentle else 0.0, MINUTES[m]))
    return Way(method, MINUTES[method] + saw, SUDDEN.get(method, 2.0))


def _does_not_get_out(pieces: list[int], facts: PieceFacts, limits: HandlingLimits) -> str:
    """Why the logs among the pieces, leaving as one, do not get out afterwards; "" when they do."""
    if facts.log is None or facts.log_length is None or facts.log_on is None or not math.isfinite(limits.heaviest):
        return ""
    mass = float(np.percentile(facts.log[pieces].sum(axis=0), HEAVY_PERCENT))
    length = float(np.bincount(facts.log_on[pieces], facts.log_length[pieces]).max())
    if limits.gets_out(mass, length):
        return ""
    return (
        f"logs of up to {limits.mass_words(mass)}, {limits.length_words(length)} long, would come off at once and "
        f"cannot be cut again where they land: the limit is {limits.passing}"
    )


def _in_reach(pieces: list[int], facts: PieceFacts) -> bool:
    """Whether hands can hold the pieces from where a person stands."""
    return facts.reach is None or float(facts.reach[pieces].max()) <= HANDS


def _off_the_plate(pieces: list[int], facts: PieceFacts, saw: float) -> Way:
    """The stub stays on its root plate: nothing else can leave with it, and it may not fall forward."""
    if len(pieces) > 1:
        return Way("", 0.0, 2.0, "the root plate and what hangs on it cannot be carried")
    if facts.plate_word not in ("stands up", "stays"):
        return Way(
            "", 0.0, 2.0, f"the root plate {facts.plate_word or 'may do anything'} once cut free: restrain it first"
        )
    return Way(LEFT_ON_PLATE, MINUTES["leave"] + saw, 2.0)


def _no_way(mass: str, over_roof: bool, over_care: bool) -> str:
    where = "over the building" if over_roof else "over something to protect" if over_care else "clear of the building"
    return f"up to {mass} {where} is more than any way out you entered allows"
