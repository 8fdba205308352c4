"""After a failure: the gust the measured break or roots needed, against the gust recorded."""

from __future__ import annotations

import math
from dataclasses import replace

from bolewright.core.base.range import Range
from bolewright.core.standing.anchorage import roots_cut
from bolewright.core.standing.decay import checked_readings, clock_of_azimuth
from bolewright.core.standing.failing import gust_to_break, gust_to_uproot
from bolewright.core.standing.lookback import compare_gusts, would_show
from bolewright.core.standing.strength import Strength, decayed_strength, sound_strength
from bolewright.core.standing.unknowns import Draws
from bolewright.core.standing.wind import reference_gust
from bolewright.job.compass import read_compass
from bolewright.job.failure import Failure
from bolewright.planning.standing.case import Place, Whole, case_of, error_steps
from bolewright.planning.standing.limbs import held_limb, limb_draws, limb_gust, worst_for_limb
from bolewright.planning.standing.looked import Exhibited, LookBack, WouldHaveShown
from bolewright.planning.standing.tests import Measured, broken_section
from bolewright.reference.standing import union_for

HOLES = ((0,), (90,), (180,), (270,), (0, 180), (90, 270), (0, 90, 180, 270))  # compass sides tried, degrees
FAR = 5000.0  # m: a station farther off says less (common practice)


def look_back(whole: Whole, draws: Draws, worst: float) -> LookBack | None:
    """The look back of a job with [failure]; None without."""
    failure = whole.tree.job.failure
    if failure is None:
        return None
    recorded = reference_gust(failure.gust.likely, failure.gust_is) if failure.gust is not None else None
    way = worst if failure.wind_from is None else whole.tree.direction(failure.wind_from.likely + math.pi)
    broken = broken_section(whole.tree)
    n = _limb_number(whole, failure)
    if n is not None:
        needed, sound, loss = _limb(whole, draws, n, failure, None if failure.wind_from is None else way)
    elif failure.kind == "stem" and failure.height is not None:
        needed, sound, loss = _stem(whole, draws, way, failure.height.likely, broken)
    else:
        needed, sound, loss = _roots(whole, draws, way, failure)
    unknown = failure.kind in ("union", "branch") and n is None
    answer = "not enough known" if unknown else compare_gusts(needed, recorded)
    return LookBack(
        kind=failure.kind,
        height_m=failure.height.likely if failure.height is not None else None,
        needed_m_s=needed,
        needed_sound_m_s=sound,
        limb=failure.limb or "",
        roots_lost=root_share(failure),
        recorded_m_s=recorded,
        answer=answer,
        loss_of_strength=loss,
        would_have_shown=_shown(whole, broken),
        words=_words(failure, answer, unknown),
        station=failure.station or "",
        evidence=failure.evidence,
        opinion=failure.opinion or "",
        exhibits=tuple(Exhibited(e.what, e.kind or "", e.kept or "", e.note or "", e.photo) for e in failure.exhibit),
        photo=failure.photo,
    )


def _stem(
    whole: Whole, draws: Draws, way: float, height: float, broken: Measured | None
) -> tuple[Range, Range, float | None]:
    """Gust needed by the section as found, by the same section sound, and the loss between them."""
    tree = whole.tree
    at = tree.at_height(height)
    diameter = broken.diameter if broken is not None else tree.diameter_at(at)
    sound = sound_strength(diameter)
    found = sound
    if broken is not None:
        found = decayed_strength(diameter, broken.readings, broken.opening, error_steps(whole.tested.shell))
    place = Place(at, height, diameter, (), None, (), True)
    gusts = [_gust(whole, draws, way, place, strength) for strength in (found, sound)]
    return gusts[0], gusts[1], 1.0 - found.kept.strength_worst


def _gust(whole: Whole, draws: Draws, way: float, place: Place, strength: Strength) -> Range:
    ground = whole.places[0]
    same = place.at <= ground.at + 1e-6
    places = (place,) if same else (ground, place)
    strengths = (strength,) if same else (whole.strengths[0], strength)
    ladder = (*places, *(p for p in whole.places if p.at > place.at + 1e-6))
    beyond = tuple(s for p, s in zip(whole.places, whole.strengths, strict=True) if p.at > place.at + 1e-6)
    case = case_of(whole.tree, ladder, (*strengths, *beyond), whole.roots)
    return Range.of_samples(gust_to_break(case, draws, way)[:, len(places) - 1])


def _roots(whole: Whole, draws: Draws, way: float, failure: Failure) -> tuple[Range, Range, float | None]:
    """Gust needed by the roots as found after, by the same roots whole, and the share of their hold that was lost.

    What the inspection before had taken off for lost roots gives way to what was found after. A pull test of this
    tree felt its lost roots: its hold is that as found.
    """
    before = whole.roots.loss.likely
    lost = failure.roots_rotten.likely if failure.roots_rotten is not None else root_share(failure)
    loss = before if lost is None else roots_cut(min(lost, 0.97)).likely
    sound = whole.case.capacity / (1.0 - (loss if whole.roots.measured else before))
    cases = (replace(whole.case, capacity=sound * (1.0 - share)) for share in (loss, 0.0))
    needed, grown = (Range.of_samples(gust_to_uproot(case, draws, way)) for case in cases)
    return needed, grown, None if lost is None and before <= 0.0 else loss


def root_share(failure: Failure) -> float | None:
    """Share of the section of the roots measured that was rotten or cut before; None where none was measured."""
    if not failure.root:
        return None
    area = [root.diameter.likely**2 for root in failure.root]
    lost = [a for a, root in zip(area, failure.root, strict=True) if root.state in ("rotten", "cut")]
    return sum(lost) / sum(area)


def _limb_number(whole: Whole, failure: Failure) -> int | None:
    """Which of the named limbs gave way; None for stem and roots, or where it is not named."""
    if failure.kind not in ("union", "branch") or failure.limb is None:
        return None
    return [limb.id for limb in whole.tree.job.tree.limb].index(failure.limb)


def _limb(whole: Whole, draws: Draws, n: int, failure: Failure, way: float | None) -> tuple[Range, Range, float | None]:
    """Gust needed by the limb with its union and section as found, by the same limb grown sound, and what was lost."""
    held = held_limb(whole, n)
    kept = _broken_kept(whole, held.limb.diameter.likely * whole.tree.bark, failure)
    found = replace(held, modulus=held.modulus * kept)
    clean = replace(held.union, kept=union_for("branch", "none").value)
    grown = replace(held, union=clean)
    gusts = []
    for state in (found, grown):
        towards = way if way is not None else worst_for_limb(whole, state)
        gusts.append(Range.of_samples(limb_gust(state, draws, limb_draws(whole, state, n, draws), towards)))
    keeps = held.union.kept.likely if failure.kind == "union" else 1.0
    return gusts[0], gusts[1], 1.0 - keeps * kept


def _broken_kept(whole: Whole, diameter: float, failure: Failure) -> float:
    """Share of strength left in the broken section as measured, in its weakest direction."""
    if failure.diameter is not None:
        diameter = failure.diameter.likely * whole.tree.bark
    if failure.shells is not None:
        sides = [(read_compass(side).likely, depth.likely) for side, depth in failure.shells.items()]
    elif failure.shell is not None:
        sides = [(0.0, failure.shell.likely)]
    else:
        return 1.0
    clocks = [(clock_of_azimuth(turn, whole.tree.bearing), depth) for turn, depth in sides]
    return max(decayed_strength(diameter, checked_readings(diameter, clocks, "failure")).kept.strength_worst, 1e-3)


def _shown(whole: Whole, broken: Measured | None) -> tuple[WouldHaveShown, ...]:
    if broken is None:
        return ()
    found = []
    for sides in HOLES:
        clocks = tuple(clock_of_azimuth(math.radians(side), whole.tree.bearing) for side in sides)
        show = would_show(broken.diameter, broken.readings, clocks, broken.opening)
        azimuths = tuple(float(side) for side in sides)
        found.append(
            WouldHaveShown(
                azimuths, show.depths, show.loss, show.thinnest_share, show.over_shell_rule, show.over_loss_rule
            )
        )
    return tuple(found)


def _words(failure: Failure, answer: str, unknown: bool) -> str:
    if unknown:
        return "The limb that gave way is not named: what was measured is kept, no gust is worked out for it."
    said = {
        "explained by the gust": "The gust recorded is above all that the part as measured was reckoned to stand.",
        "within the spread": "The gust recorded lies within what the part as measured was reckoned to need.",
        "failed below the gust computed": "The gust recorded is below what the part as measured was reckoned to need: "
        "it was weaker than measured, the wind at the tree was stronger than at the station, or something else pulled.",
        "not enough known": "No gust is recorded, so nothing can be compared.",
    }[answer]
    far = failure.station_distance
    more = " The station is far off: the gust at the tree may have been quite another."
    return said + (more if far is not None and far.likely > FAR else "")
