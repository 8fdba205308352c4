"""The places looked at along a standing stem: strength lost, gust to break, margin, and the rules people know."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.range import Range
from bolewright.core.sections import Kept, formulas_beside, wall_mode
from bolewright.core.standing.decay import cavity_share, rules_of_thumb
from bolewright.core.standing.failing import Case, stress_share
from bolewright.core.standing.strength import loss_band, outline_of
from bolewright.core.standing.unknowns import Draws
from bolewright.planning.standing.case import Place, Whole
from bolewright.planning.standing.results import LossBeside, RuleBeside, StandSection

Floats = NDArray[np.float64]


def sections_of(whole: Whole, draws: Draws, worst: float, design: float, stem: Floats) -> tuple[StandSection, ...]:
    """Every place looked at along the stem, with its gust, its margin at the gust set, and what stands beside it."""
    found = []
    for n, place in enumerate(whole.places):
        stress = at_gust(whole.case, stress_share(whole.case, draws, worst, n), design)
        margin = Range.of_samples(1.0 / np.maximum(stress, 1e-6))
        found.append(_section(whole, n, place, Range.of_samples(stem[:, n]), margin))
    return tuple(found)


def at_gust(case: Case, values: Floats, gust: float) -> Floats:
    """Values (B, G) read at one gust, (B,)."""
    grid = case.loads.gust
    k = int(np.clip(np.searchsorted(grid, gust) - 1, 0, grid.size - 2))
    share = min(max((gust - grid[k]) / (grid[k + 1] - grid[k]), 0.0), 1.0)
    return np.asarray(values[:, k] * (1.0 - share) + values[:, k + 1] * share)


def _section(whole: Whole, n: int, place: Place, gust: Range, margin: Range) -> StandSection:
    tree, strength = whole.tree, whole.strengths[n]
    kept = strength.kept
    formulas, rules, wall = _beside(place, kept)
    outer, inner = outline_of(place.diameter, place.readings or ((12.0, place.diameter / 2.0),), place.opening)
    weakest = (math.degrees(tree.bearing) + 180.0 - 30.0 * kept.worst_clock) % 180.0 if place.readings else None
    return StandSection(
        id=f"S{n + 1}",
        height_m=place.height,
        at_m=place.at,
        diameter_m=place.diameter,
        loss_of_strength=max(1.0 - kept.strength_worst, 0.0),
        loss_of_area=max(1.0 - kept.area, 0.0),
        loss_range=loss_band(strength, whole.tested.shell if place.readings else Range.exact(0.0)),
        area_m2=kept.area * math.pi / 4.0 * place.diameter**2,
        modulus_m3=kept.strength_worst * math.pi / 32.0 * place.diameter**3,
        weakest_deg=weakest,
        gust_m_s=gust,
        margin=margin,
        measured=place.measured,
        shell=tuple((math.degrees(turn) % 360.0, depth) for turn, depth in place.sides),
        opening_m=place.opening[1] if place.opening is not None else 0.0,
        outline=_from_above(outer, tree.bearing),
        void=_from_above(inner, tree.bearing) if place.readings else (),
        formulas=formulas,
        rules=rules,
        wall=wall,
        note=place.note,
    )


def _beside(place: Place, kept: Kept) -> tuple[tuple[LossBeside, ...], tuple[RuleBeside, ...], str]:
    """One-line formulas, rules of thumb, how the wall of a closed stem gives way; nothing where no depth is known."""
    if not place.readings:
        return (), (), ""
    width = place.opening[1] if place.opening is not None else 0.0
    losses = formulas_beside(kept, cavity_share(place.diameter, place.readings), width / (math.pi * place.diameter))
    rules = rules_of_thumb(place.diameter, place.readings, width)
    thinnest = min(depth for _, depth in place.readings)
    closed = width <= 0.0 and thinnest > 0.0
    return (
        tuple(LossBeside(f.name, f.source, f.loss, f.error) for f in losses),
        tuple(RuleBeside(r.name, r.value, r.limit, r.within, r.applies, r.source) for r in rules),
        wall_mode(thinnest, place.diameter / 2.0) if closed else "",
    )


def _from_above(points: Floats, bearing: float) -> tuple[tuple[float, float], ...]:
    """Section points (right of the bearing, back along it) as (east, north)."""
    right, back = points[:, 0], points[:, 1]
    east = right * math.cos(bearing) - back * math.sin(bearing)
    north = -right * math.sin(bearing) - back * math.cos(bearing)
    return tuple((float(e), float(n)) for e, n in zip(east, north, strict=True))
