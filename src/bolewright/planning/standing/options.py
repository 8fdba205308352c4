"""What each option leaves: the gust the tree or limb stands after it, what a support carries, what it still hits."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.range import Range
from bolewright.core.standing.failing import GUSTS, Case, gust_to_break, gust_to_uproot, mass_factors
from bolewright.core.standing.limb import UP, LimbBody, bending, moments, support_reaction, supported
from bolewright.core.standing.unknowns import Draws
from bolewright.job.standing import Option
from bolewright.planning.both import both_lengths
from bolewright.planning.standing import defaults
from bolewright.planning.standing.case import Whole, case_of
from bolewright.planning.standing.limbs import (
    Held,
    LimbDraws,
    held_limb,
    limb_draws,
    limb_gust,
    worst_for_limb,
)
from bolewright.planning.standing.pairs import pairs_left, through_tables, worst_of
from bolewright.planning.standing.rated import OptionAfter, PairRated, TargetReach

Floats = NDArray[np.float64]
IN_REACH = ("under the crown", "in the sector", "in the circle")
UNCHANGED = {
    "look again": "The tree stays as it is: the gust it stands does not change, only what is known.",
    "brace": "A brace holds a union together: name the limb (part) and it is worked out for that limb.",
    "prop": "A prop carries a limb's own weight: name the limb (part) and it is worked out for that limb.",
    "move target": "The tree stays as it is; what it could hit goes.",
    "keep stump": "The crown and the wind on it go; the stump is to be judged by itself.",
    "remove": "Nothing is left to fail.",
}
HOLDS = {
    "prop": "a prop that does not give, {}; it carries the weight and holds no one from the side",
    "brace": "a tight line to a stem that stands still, {}; one that stretches or a stem that sways with it holds less",
}


@dataclass(frozen=True)
class After:
    """What is worked out for an option."""

    gust: Floats | None = None  # (B,)
    support: Range | None = None
    at: float | None = None
    words: str = ""


def options_after(
    whole: Whole, draws: Draws, direction: float, design: float, targets: tuple[TargetReach, ...]
) -> tuple[OptionAfter, ...]:
    """Each option of the job's rating with what it leaves."""
    rating = whole.tree.job.rating
    if rating is None:
        return ()
    return tuple(
        _option(option, _after(whole, draws, direction, design, option), design, targets, pairs_left(rating, option))
        for option in rating.option
    )


def _option(
    option: Option, after: After, design: float, targets: tuple[TargetReach, ...], pairs: tuple[PairRated, ...]
) -> OptionAfter:
    combined, rated = through_tables(option.failure, option.impact, option.consequences)
    gone = {option.target} if option.kind == "move target" else set()
    left = tuple(t.id for t in targets if t.reach in IN_REACH and t.id not in gone)
    return OptionAfter(
        id=option.id,
        kind=option.kind,
        by=option.by.likely if option.by is not None else None,
        part=option.part or "",
        gust_m_s=None if after.gust is None else Range.of_samples(after.gust),
        share_standing=None if after.gust is None else float(np.mean(after.gust >= design)),
        support_N=after.support,
        support_at_m=after.at,
        targets_left=() if option.kind == "remove" else left,
        failure=option.failure,
        impact=option.impact,
        consequences=option.consequences,
        combined=combined,
        rating=rated,
        reinspect=option.reinspect.isoformat() if option.reinspect is not None else "",
        words=after.words,
        note=option.note or "",
        pairs=pairs,
        worst=worst_of(pairs) if pairs else rated,
    )


def _after(whole: Whole, draws: Draws, direction: float, design: float, option: Option) -> After:
    if option.part is not None and option.kind in ("reduce", *HOLDS):
        return _limb_after(whole, draws, design, option)
    if option.by is not None:
        case, after = pruned(whole, draws, option.kind, option.by.likely)
        said = (
            f"{option.kind} the crown by {option.by.likely:.0%}: worked out with the same unknowns as the tree as it is"
        )
        return After(failing_gust(case, after, direction), words=said)
    said = UNCHANGED.get(option.kind, "")
    if option.kind == "move target" and option.target is not None:
        said = f"The tree stays as it is; {option.target} goes."
    return After(words=said)


def _limb_after(whole: Whole, draws: Draws, design: float, option: Option) -> After:
    n = next(i for i, limb in enumerate(whole.tree.job.tree.limb) if limb.id == option.part)
    cut = min(option.by.likely, 0.95) if option.by is not None else 0.0
    held = held_limb(whole, n, cut)
    own = limb_draws(whole, held, n, draws)
    if option.kind == "reduce":
        gust = limb_gust(held, draws, own, worst_for_limb(whole, held))
        return After(gust, words=f"{option.part} cut back by {cut:.0%} of its length; its wood is taken as it is")
    at = option.at.likely if option.at is not None else defaults.HOLD_AT * held.body.length
    at = max(at, float(held.body.s[0]) + 0.05 * held.body.length)
    way = UP if option.kind == "prop" else _inward(held.body, at)

    def bend(body: LimbBody, own_moment: Floats, wind: Floats) -> Floats:
        return _held_up(body, own_moment, wind, at, way)

    worst = worst_for_limb(whole, held, bend)
    gust = limb_gust(held, draws, own, worst, bend)
    force = _support(held, draws, own, worst, design, at, way)
    return After(
        gust, Range.of_samples(force), at, f"{option.part} with {HOLDS[option.kind].format(_place(option, at))}"
    )


def _place(option: Option, at: float) -> str:
    where = f"{both_lengths(at)} out"
    return where if option.at is not None else f"{where} (two thirds of its length taken)"


def _inward(body: LimbBody, at: float) -> Floats:
    """Level direction from the limb back to what it grows on."""
    out = body.axis[-1].copy()
    out[2] = 0.0
    return -out if np.linalg.norm(out) > 1e-6 else np.array([1.0, 0.0, 0.0])


def _held_up(body: LimbBody, own: Floats, wind: Floats, at: float, way: Floats) -> Floats:
    """What bends a limb that is held: (B, K, G)."""
    moment = np.moveaxis(own[:, :, None, :] + wind, 1, 2)
    force = support_reaction(body, moment, at, way)
    return bending(body, np.moveaxis(supported(body, moment, force, at, way), 2, 1))


def _support(
    held: Held, draws: Draws, own_draws: LimbDraws, direction: float, design: float, at: float, way: Floats
) -> Floats:
    """Force (B,) [N] of the support at the design gust."""
    crown = draws["drag"] * draws["filled"] * draws["width"] * draws["height"] * own_draws.sail
    wind_factor = draws["size"] if held.leafless else crown
    own, wind = moments(held.loads, wind_factor, mass_factors(draws), direction)
    force = support_reaction(held.body, np.moveaxis(own[:, :, None, :] + wind, 1, 2), at, way)
    return np.array([np.interp(design, GUSTS, row) for row in force])


def pruned(whole: Whole, draws: Draws, kind: str, by: float) -> tuple[Case, Draws]:
    """The tree after a cut: reduce takes from the crown's length at the top, raise at its base, thin from its leaf."""
    tree = whole.tree
    base, top = tree.crown_base, tree.standing.height.likely
    if kind == "thin":
        left = {**draws.values, "filled": draws["filled"] * (1.0 - by)}
        return case_of(tree, whole.places, whole.strengths, whole.roots, share=1.0 - by), Draws(left, draws.groups)
    length = (top - base) * min(by, 0.95)
    crown = (base, top - length) if kind == "reduce" else (base + length, top)
    return case_of(tree, whole.places, whole.strengths, whole.roots, crown, 1.0 - by), draws


def failing_gust(case: Case, draws: Draws, direction: float) -> Floats:
    """Gust (B,) at which stem or roots fail first."""
    stem = gust_to_break(case, draws, direction).min(axis=1)
    return np.asarray(np.minimum(stem, gust_to_uproot(case, draws, direction)))
