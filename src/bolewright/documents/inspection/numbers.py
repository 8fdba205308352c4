"""The engineer's numbers: stem, roots, wind, and how the targets lie."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bolewright.core.base.range import Range
from bolewright.documents.standing import words as w
from bolewright.drawings import units as u
from bolewright.drawings.standing_words import compass, formula_words, rule_words, side
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.standing.results import LimbStand, StandResult, StandSection

Rows = list[list[str]]
PRACTICE = (
    "Sectors and that distance are common practice, as is what a limb comes down on: all within a quarter of its "
    "length of where it hangs."
)


def stem(result: StandResult, units: Units) -> dict[str, Any]:
    """Every place looked at from the ground up, and the rules of thumb beside those tested."""
    tested = [section for section in result.sections if section.measured]
    shown = [section for section in result.sections if section in told_sections(result)]
    return {
        "rows": [_place(section, result, units) for section in shown],
        "looked": str(len(result.sections)),
        "beside": [_beside(section, units) for section in tested],
        "sources": [[name, source] for name, source in _rules(tested).items()],
    }


def told_sections(result: StandResult) -> list[StandSection]:
    """The places worth a row: tested, at the ground, of the least margin, and where it breaks first."""
    least = min(result.sections, key=lambda section: section.margin.likely)
    first = result.breaks_first_height_m if result.breaks_first != "roots" else None
    return [s for s in result.sections if s.measured or s is least or s is result.sections[0] or s.height_m == first]


def _place(section: StandSection, result: StandResult, units: Units) -> dict[str, Any]:
    first = result.breaks_first != "roots" and section.height_m == result.breaks_first_height_m
    return {
        "height": u.length(section.height_m, units),
        "wood": u.size(section.diameter_m, units),
        "kept": w.percent(1.0 - section.loss_of_strength) if section.shell else "taken as sound",
        "tested": "tested" if section.measured else "from the nearest test" if section.shell else "not tested",
        "gust": w.gust(section.gust_m_s, units),
        "margin": w.factor(section.margin),
        "first": first,
    }


def _beside(section: StandSection, units: Units) -> dict[str, str]:
    """One-line formulas and rules of thumb beside the computed section, those not made for such a section left out."""
    rules = [rule for rule in section.rules if rule.applies]
    within, past = ([rule_words(rule) for rule in rules if rule.within is wanted] for wanted in (True, False))
    return {
        "where": u.length(section.height_m, units),
        "lost": w.percent(section.loss_of_strength),
        "formulas": "; ".join(formula_words(f) for f in section.formulas),
        "past": "; ".join(past) or "none",
        "within": "; ".join(within) or "none",
        "wall": section.wall,
    }


def _rules(tested: Sequence[StandSection]) -> dict[str, str]:
    """Every formula and rule shown, with its source."""
    found: dict[str, str] = {}
    for section in tested:
        found |= {formula.name: formula.source for formula in section.formulas}
        found |= {rule.name: rule.source for rule in section.rules if rule.applies}
    return found


def wind(job: Job, result: StandResult, units: Units) -> Rows:
    """What it is held against and how it stands that."""
    standing = job.standing
    rows = [
        ["Held against", f"a gust of {u.speed(result.design_gust_m_s, units)} at 10 m (33 ft) in open country"],
        ["Because", result.design_gust_why],
        ["It fails in gusts of", w.gust(result.gust_m_s, units)],
        ["First", w.first_to_fail(result, units)],
        ["Worst wind blows", f"towards {compass(result.worst_towards_deg)}"],
    ]
    if result.wind_gust_m_s is not None and result.wind_towards_deg is not None:
        named = f"towards {compass(result.wind_towards_deg)}: fails in gusts of {w.gust(result.wind_gust_m_s, units)}"
        rows.append(["The wind named", named])
    if standing is not None:
        rows.append(
            ["Crown and ground", f"{standing.season}; {standing.terrain} ground; profile by {standing.wind_form}"]
        )
    if result.shelter is not None:
        when = "Behind its neighbours" if result.shelter.neighbours == "standing" else "Before its neighbours were lost"
        rows.append([when, f"gusts of {w.gust(result.shelter.gust_m_s, units)}. {result.shelter.words}"])
    rows.append(["Own weight", f"{u.mass_range(result.mass_kg, units)} of all that stands"])
    lean = standing.lean if standing is not None else None
    if standing is not None and lean is not None:
        rows.append(["Lean", f"{lean} towards {standing.lean_towards}"])
    return rows


def seasons(result: StandResult, units: Units) -> list[dict[str, Any]]:
    """The same tree in every season, the one judged marked."""
    return [
        {
            "season": season.season,
            "judged": season.judged,
            "gust": w.gust(season.gust_m_s, units),
            "limb": f"{season.limb}: {w.share(season.limb_share)}" if season.limb_share is not None else "",
        }
        for season in result.seasons
    ]


def roots(result: StandResult, units: Units) -> dict[str, Any]:
    """What the roots hold against what is asked of them."""
    roots = result.roots
    rows = [
        ["They hold", u.moment_range(roots.capacity_Nm, units)],
        ["Asked of them", f"{u.moment_range(roots.moment_Nm, units)} in the gust it is held against"],
        ["Of it own weight", u.moment_range(Range.exact(roots.own_weight_Nm), units)],
        ["Margin", w.factor(roots.margin)],
        ["They let go in gusts of", w.gust(roots.gust_m_s, units)],
        ["Taken off for lost roots", w.share(roots.loss) if roots.loss.high > 0.0 else "nothing"],
    ]
    if roots.plate_Nm is not None:
        plate = u.moment_range(Range.exact(roots.plate_Nm), units)
        rows.append(["Cross-check", f"{plate} by the weight of the root plate alone"])
    basis = "a pull test of this tree" if roots.measured else "no pull test: the scale and no more"
    rows.append(["Rests on", f"{basis} ({roots.source}; {roots.status})"])
    return {"rows": rows, "first": result.breaks_first == "roots"}


def limbs(result: StandResult, units: Units) -> list[dict[str, Any]]:
    """Every named limb or codominant stem with its union, the least margin first."""
    return [_limb(limb, units) for limb in sorted(result.limbs, key=lambda limb: limb.margin.likely)]


def _limb(limb: LimbStand, units: Units) -> dict[str, Any]:
    union = limb.union
    seen = [f"{union.form}{'' if union.form_told else ' (told from the diameters)'}", f"bark in it: {union.bark}"]
    seen += [f"open crack {u.small(union.split_m, units)}"] if union.split_m else []
    return {
        "id": limb.id,
        "where": f"{u.length(limb.height_m, units)} up, towards {compass(limb.towards_deg).split(' ')[0]}",
        "union": "; ".join(seen),
        "kept": f"keeps {w.share(union.kept)} of the limb's strength ({union.status})",
        "note": union.note,
        "own": w.share(limb.own_share),
        "gust": w.gust(limb.gust_m_s, units),
        "margin": w.factor(limb.margin),
        "breaks": limb.breaks,
        "over": ", ".join(limb.over) or "none named",
        "photo": ", ".join(union.photo),
        "source": union.source,
    }


def reach(result: StandResult, units: Units) -> dict[str, Any]:
    """How every target lies to a fall."""
    fall = result.fall
    sides = ", ".join(f"{side(at)} ({why})" for at, why in zip(fall.sectors_deg, fall.sector_names, strict=True))
    circle = f"Fall circle {u.length(fall.radius_m, units)}, the tree from foot to top."
    hatched = f"Hatched: {fall.half_angle_deg:.0f} degrees either side of: {sides}."
    return {
        "words": f"{circle} {hatched} Targets were looked for out to {u.length(fall.look_m, units)}. {PRACTICE}",
        "rows": [
            {
                "what": target.what,
                "id": target.id,
                "away": f"{u.length(target.distance_m, units)} {compass(target.towards_deg)}",
                "reach": target.reach,
                "parts": ", ".join(target.parts),
                "people": target.occupancy,
                "sheltered": target.protection,
                "movable": "yes" if target.movable else "no",
            }
            for target in result.targets
        ],
    }
