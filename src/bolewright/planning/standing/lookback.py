"""After a failure: the gust the measured break or roots needed, against the gust recorded."""

from __future__ import annotations

import math
from dataclasses import replace

from bolewright.core.base.range import Range
from bolewright.core.standing.anchorage import roots_cut
from bolewright.core.standing.decay import clock_of_azimuth
from bolewright.core.standing.failing import gust_to_break, gust_to_uproot
from bolewright.core.standing.lookback import compare_gusts, would_show
from bolewright.core.standing.strength import Strength, decayed_strength, sound_strength
from bolewright.core.standing.unknowns import Draws
from bolewright.core.standing.wind import reference_gust
from bolewright.job.failure import Failure
from bolewright.planning.standing.case import Place, Whole, case_of, error_steps
from bolewright.planning.standing.results import LookBack, WouldHaveShown
from bolewright.planning.standing.tests import Measured, broken_section

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
    if failure.kind == "stem" and failure.height is not None:
        needed, sound, loss = _stem(whole, draws, way, failure.height.likely, broken)
    else:
        needed, sound, loss = _roots(whole, draws, way, failure)
    answer = "not enough known" if failure.kind in ("union", "branch") else compare_gusts(needed, recorded)
    return LookBack(
        kind=failure.kind,
        height_m=failure.height.likely if failure.height is not None else None,
        needed_m_s=needed,
        needed_sound_m_s=sound,
        recorded_m_s=recorded,
        answer=answer,
        loss_of_strength=loss,
        would_have_shown=_shown(whole, broken),
        words=_words(failure, answer),
        station=failure.station or "",
        evidence=failure.evidence,
        opinion=failure.opinion or "",
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
    sound = Range.of_samples(gust_to_uproot(whole.case, draws, way))
    if failure.roots_rotten is None:
        return sound, sound, None
    loss = roots_cut(min(failure.roots_rotten.likely, 0.97)).likely
    case = replace(whole.case, capacity=whole.case.capacity * (1.0 - loss))
    return Range.of_samples(gust_to_uproot(case, draws, way)), sound, loss


def _shown(whole: Whole, broken: Measured | None) -> tuple[WouldHaveShown, ...]:
    if broken is None:
        return ()
    found = []
    for sides in HOLES:
        clocks = tuple(clock_of_azimuth(math.radians(side), whole.tree.bearing) for side in sides)
        show = would_show(broken.diameter, broken.readings, clocks)
        azimuths = tuple(float(side) for side in sides)
        found.append(
            WouldHaveShown(
                azimuths, show.depths, show.loss, show.thinnest_share, show.over_shell_rule, show.over_loss_rule
            )
        )
    return tuple(found)


def _words(failure: Failure, answer: str) -> str:
    if failure.kind in ("union", "branch"):
        return "Unions and branches are not reckoned: what was measured is kept, no gust is worked out."
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
