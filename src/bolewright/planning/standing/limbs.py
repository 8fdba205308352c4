"""Limbs and their unions as places of failure: own weight and wind on each named limb against what its union keeps."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.range import Range
from bolewright.core.standing.decay import checked_readings
from bolewright.core.standing.failing import GUSTS, gust_reaching, mass_factors
from bolewright.core.standing.fall import along_reach
from bolewright.core.standing.limb import LimbBody, LimbLoads, bending, limb_body, limb_loads, moments
from bolewright.core.standing.strength import decayed_strength
from bolewright.core.standing.unknowns import Draws, draw_factor, likely_draw
from bolewright.core.tree.spec import STEM
from bolewright.job.inspection import Union
from bolewright.job.model import Limb
from bolewright.planning.standing import defaults
from bolewright.planning.standing.case import Whole
from bolewright.planning.standing.results import LimbStand, UnionSeen
from bolewright.planning.standing.tree import Stood, crown_ice
from bolewright.planning.trees import breast_diameter
from bolewright.reference.standing import union_for

Floats = NDArray[np.float64]
DIRECTIONS = np.arange(36) * math.tau / 36.0
CODOMINANT = 0.70  # aspect ratio from which two stems count as codominant: Dahle et al. 2022, Forests 13(7):1007
Bend = Callable[[LimbBody, Floats, Floats], Floats]  # own (B, K, 3), wind (B, K, G, 3) -> what bends (B, K, G)


@dataclass(frozen=True)
class Held:
    """A limb ready to be loaded: K places with the strength they keep, the union first."""

    limb: Limb
    body: LimbBody
    loads: LimbLoads
    modulus: Floats  # (K,) [m3] of the wood, in the weakest direction
    area: Floats  # (K,) [m2]
    union: UnionSeen
    leafless: bool


@dataclass(frozen=True)
class LimbDraws:
    """Samples (B,) of what is not known of one limb beside the tree's own unknowns."""

    union: Floats
    sail: Floats


def limbs_of(whole: Whole, draws: Draws, design: float) -> tuple[LimbStand, ...]:
    """Every named limb of the tree against the wind, in the order written."""
    return tuple(_limb(whole, held_limb(whole, n), n, draws, design) for n in range(len(whole.tree.job.tree.limb)))


def held_limb(whole: Whole, n: int, cut: float = 0.0) -> Held:
    """The n-th limb, cut back by a share of its length."""
    tree = whole.tree
    limb = tree.job.tree.limb[n]
    share = min((limb.diameter.likely / breast_diameter(tree.job)) ** 2, 1.0)
    body = limb_body(tree.assembly, limb.id, crown_ice(tree) * share)
    leafless = limb.foliage == "none"
    area = _bare_area(limb) if leafless else share * float(tree.slices().area.sum())
    body = body.shortened(cut)
    standing = tree.standing
    loads = limb_loads(body, area, GUSTS, standing.wind_form, standing.terrain, leafless)
    wood = body.diameter * tree.bark
    kept = np.array([_kept(tree, limb.id, float(s), float(d)) for s, d in zip(body.s, wood, strict=True)])
    modulus, section = np.pi * wood**3 / 32.0 * kept, np.pi * wood**2 / 4.0 * kept
    return Held(limb, body, loads, modulus, section, union_of(tree, limb), leafless)


def _bare_area(limb: Limb) -> float:
    tip = limb.tip_diameter.likely if limb.tip_diameter is not None else 0.25 * limb.diameter.likely
    return limb.length.likely * (limb.diameter.likely + tip) / 2.0


def _kept(tree: Stood, member: str, at: float, diameter: float) -> float:
    """Share of strength left in the weakest direction where decay is written down along the limb, else the whole."""
    for n, decay in enumerate(tree.job.tree.decay):
        if decay.member == member and decay.from_.likely - 1e-6 <= at <= decay.to.likely + 1e-6:
            given = [(clock, min(depth.likely, diameter / 2.0)) for clock, depth in decay.shells]
            readings = checked_readings(diameter, given, f"tree.decay[{n}]")
            return max(decayed_strength(diameter, readings).kept.strength_worst, 1e-3)
    return 1.0


def union_of(tree: Stood, limb: Limb) -> UnionSeen:
    """The union of a limb as looked at, or as told from the diameters, and what it keeps of the limb's strength."""
    inspection = tree.job.inspection
    seen = next((u for u in (inspection.union if inspection is not None else ()) if u.limb == limb.id), None)
    aspect = limb.diameter.likely / _parent_diameter(tree, limb)
    told = seen is not None and seen.form is not None
    form = seen.form if told and seen is not None else "codominant" if aspect >= CODOMINANT else "branch"
    bark = seen.bark if seen is not None else None
    kept = union_for(form or "branch", bark)
    split = seen.split.likely if seen is not None and seen.split is not None else None
    return UnionSeen(
        form=form or "branch",
        form_told=told,
        bark=bark or "not known",
        split_m=split,
        aspect=aspect,
        kept=kept.value,
        source=kept.source,
        status=str(kept.status),
        note=_union_note(seen, bark, split, aspect),
        photo=seen.photo if seen is not None else (),
    )


def _union_note(seen: Union | None, bark: str | None, split: float | None, aspect: float) -> str:
    said = [seen.note] if seen is not None and seen.note else []
    if split:
        said.append("An open crack: what such a union still holds is not known.")
    elif bark is None:
        said.append("Nobody has written down whether bark is included.")
    if seen is not None and seen.form == "branch" and aspect >= CODOMINANT:
        said.append(f"Called a branch, but {aspect:.0%} as thick as what it grows on.")
    return " ".join(said)


def _parent_diameter(tree: Stood, limb: Limb) -> float:
    """Outside diameter of what the limb grows on, at the union."""
    if limb.on == STEM:
        return max(tree.diameter_at(limb.at.likely) / tree.bark, 1e-3)
    own = tree.assembly.of(limb.on)
    return float(np.interp(limb.at.likely, tree.assembly.s_start[own], tree.assembly.diameter_start[own]))


def limb_draws(whole: Whole, held: Held, n: int, draws: Draws) -> LimbDraws:
    """Samples of what the union keeps and of the limb's share of the crown, the same for the same job and limb."""
    count = draws["drag"].size
    rng = np.random.default_rng((whole.tree.job.limits.seed, n))
    return LimbDraws(draw_factor(held.union.kept, count, rng), draw_factor(defaults.LIMB_SAIL, count, rng))


def likely_limb(held: Held, count: int = 1) -> LimbDraws:
    """Samples (count,), everything likely."""
    return LimbDraws(np.full(count, held.union.kept.likely), np.full(count, defaults.LIMB_SAIL.likely))


def plain_bend(body: LimbBody, own: Floats, wind: Floats) -> Floats:
    """What bends an unsupported limb."""
    return bending(body, own[:, :, None, :] + wind)


def limb_stress(held: Held, draws: Draws, own_draws: LimbDraws, way: ArrayLike, bend: Bend = plain_bend) -> Floats:
    """Stress over strength (B, K, G) [-] along a limb in wind towards `way` [rad]: bending and the weight beyond."""
    factors = mass_factors(draws)
    crown = draws["drag"] * draws["filled"] * draws["width"] * draws["height"] * own_draws.sail
    own, wind = moments(held.loads, draws["size"] if held.leafless else crown, factors, way)
    limit = (draws["strength"] * draws["wood"])[:, None] * _keeps(held, own_draws)
    size = draws["size"][:, None]
    squeezed = factors @ held.loads.weight.T / (held.area * size**2 * limit)
    return np.asarray(bend(held.body, own, wind) / (held.modulus * size**3 * limit)[:, :, None] + squeezed[:, :, None])


def _keeps(held: Held, own_draws: LimbDraws) -> Floats:
    keeps = np.ones((own_draws.union.size, held.body.s.size))
    keeps[:, 0] = own_draws.union
    return keeps


def limb_gust(held: Held, draws: Draws, own_draws: LimbDraws, way: float, bend: Bend = plain_bend) -> Floats:
    """Gust (B,) [m/s] that breaks the limb anywhere along it."""
    return gust_reaching(limb_stress(held, draws, own_draws, way, bend).max(axis=1), GUSTS)


def worst_for_limb(whole: Whole, held: Held, bend: Bend = plain_bend) -> float:
    """Direction [rad] towards which the least gust breaks the limb, likely values; the most stress where none does."""
    count = DIRECTIONS.size
    stress = limb_stress(held, likely_draw(whole.unknowns, count), likely_limb(held, count), DIRECTIONS, bend).max(
        axis=1
    )
    order = np.lexsort((-stress[:, -1], gust_reaching(stress, GUSTS)))
    return float(DIRECTIONS[order[0]])


def _limb(whole: Whole, held: Held, n: int, draws: Draws, design: float) -> LimbStand:
    tree, body, limb = whole.tree, held.body, held.limb
    way = worst_for_limb(whole, held)
    own_draws = limb_draws(whole, held, n, draws)
    stress = limb_stress(held, draws, own_draws, way)
    gust = gust_reaching(stress.max(axis=1), GUSTS)
    at_design = np.array([np.interp(design, GUSTS, row) for row in stress.max(axis=1)])
    place = _breaks_at(whole, held, way)
    standing = float(np.mean(gust >= design))
    base, tip = body.point[0], _tip(tree, limb.id)
    out = tip[:2] - base[:2]
    found = LimbStand(
        id=limb.id,
        on=limb.on,
        height_m=float(base[2]),
        towards_deg=tree.compass_deg(float(np.arctan2(out[1], out[0]))),
        base_m=_east_north(tree, base),
        tip_m=_east_north(tree, tip),
        tip_height_m=float(tip[2]),
        length_m=body.length,
        diameter_m=float(body.diameter[0]),
        union=held.union,
        mass_kg=Range.of_samples(mass_factors(draws) @ body.mass.sum(axis=0)),
        own_share=Range.of_samples(stress[:, 0, 0]),
        gust_m_s=Range.of_samples(gust),
        margin=Range.of_samples(1.0 / np.maximum(at_design, 1e-6)),
        share_standing=standing,
        worst_towards_deg=tree.compass_deg(way),
        breaks_at_m=float(body.s[place]),
        breaks="at its union" if place == 0 else "along the limb",
        status="",
        over=(),
    )
    return replace(found, status=_status(whole, found), over=_over(whole, body, tip))


def _status(whole: Whole, found: LimbStand) -> str:
    if found.union.split_m:
        return "not enough known"
    return "inside" if found.share_standing >= whole.tree.job.limits.share.likely else "outside"


def _breaks_at(whole: Whole, held: Held, way: float) -> int:
    """The place most used up when the limb breaks, likely values."""
    stress = limb_stress(held, likely_draw(whole.unknowns), likely_limb(held), way)[0]
    first = float(gust_reaching(stress.max(axis=0)[None, :], GUSTS)[0])
    return int(np.argmax([np.interp(first, GUSTS, row) for row in stress]))


def _tip(tree: Stood, member: str) -> Floats:
    return np.asarray(tree.assembly.end[tree.assembly.of(member)][-1])


def _east_north(tree: Stood, point: Floats) -> tuple[float, float]:
    """A point of the tree's own axes as (east, north) of the foot."""
    far, turn = math.hypot(point[0], point[1]), tree.bearing - math.atan2(point[1], point[0])
    return far * math.sin(turn), far * math.cos(turn)


def _over(whole: Whole, body: LimbBody, tip: Floats) -> tuple[str, ...]:
    """Targets whose near side lies where the limb would come down."""
    found = []
    for target in whole.tree.job.target:
        turn = whole.tree.direction(target.towards.likely)
        near = target.distance.likely * np.array([math.cos(turn), math.sin(turn)])
        if along_reach(body.point[0, :2], tip[:2], body.length, near):
            found.append(target.id)
    return tuple(found)
