"""What the moves out of one state cost, all of them at once: the rules, the states seen, and the arithmetic."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bolewright.core.contact.actions import Array
from bolewright.core.contact.state import Bools
from bolewright.core.contact.trial import Marks
from bolewright.core.cutting.handling import Way
from bolewright.core.cutting.order import Judged, Move

ROUNDING = 1e-6  # of all the forces together: they are kept in single precision, and as much as now is not over


@dataclass(frozen=True)
class Rules:
    """share: of the samples that must stay inside. limit (n, B) [N]: per contact and sample, inf where not watched.
    building (n,) bool: contacts whose sum is the load on the building; total (B,) [N]: limit of that sum.
    tolerance (n,) [m]: how far the wood at each contact may move in one step. together: contacts (numbers) of one
    support that are watched by their sum, with its limit (B,) [N]."""

    share: float
    limit: Array
    building: Bools
    total: Array
    tolerance: Array
    together: tuple[tuple[tuple[int, ...], Array], ...] = ()

    def take(self, index: NDArray[np.int64]) -> Rules:
        """The same rules for fewer samples."""
        together = tuple((rows, limit[index]) for rows, limit in self.together)
        return replace(self, limit=self.limit[:, index], total=self.total[index], together=together)

    def of(self, which: NDArray[np.int64]) -> Rules:
        """The same rules for some of the contacts."""
        place = {int(full): i for i, full in enumerate(which)}
        together = tuple(
            (tuple(place[r] for r in rows), limit) for rows, limit in self.together if all(r in place for r in rows)
        )
        return replace(
            self,
            limit=self.limit[which],
            building=self.building[which],
            tolerance=self.tolerance[which],
            together=together,
        )


@dataclass(frozen=True)
class Seen:
    """What is kept of a solved state, in single precision: thousands of states fit in memory. force (n, B) [N];
    rise (n, B) [m]; held (B,); here (n,) contacts whose wood is still on; marks (n, B)."""

    force: NDArray[np.float32]
    rise: NDArray[np.float32]
    held: Bools
    here: Bools
    marks: Marks


def middle(values: Array) -> Array:
    """(...,) medians of values (..., B), any unit [-].

    Plain: the upper of the two middle values.
    """
    half = values.shape[-1] // 2
    return np.asarray(np.partition(values, half, axis=-1)[..., half])


def building_load(rules: Rules, force: NDArray[np.float32]) -> Array:
    """(..., B) load on the building [N] of forces (..., n, B).

    Plain: a sum.
    """
    return np.asarray(force[..., rules.building, :].sum(axis=-2), dtype=float)


def price_moves(
    rules: Rules, befores: list[Seen], afters: list[Seen], moves: list[Move], ways: list[Way]
) -> list[Judged]:
    """The moves, each with the states before and after it, priced and judged [N, min].

    A support's force counts with the change times the way's suddenness while it rises; the change of a load that comes
    on at once doubles, and damping is left out, so peaks err high.
    Source: sudden loading, Timoshenko & Young 1965; rules of the house.
    Checked by: tests/unit/cutting/test_judge.py
    """
    if not moves:
        return []
    sudden = np.array([w.sudden for w in ways], dtype=np.float32)[:, None, None]
    was, force = (np.stack([s.force for s in seen]) for seen in (befores, afters))  # (M, n, B)
    here = np.stack([s.here for s in afters])[:, :, None]  # (M, n, 1)
    stays = here & np.stack([s.here for s in befores])[:, :, None]
    moved = np.abs(np.stack([s.rise for s in afters]) - np.stack([s.rise for s in befores]))
    peak = was + np.maximum(sudden * (force - was), 0.0)
    over = np.where(here, peak - rules.limit, -np.inf).max(axis=1, initial=-np.inf)
    far = np.where(stays, moved - rules.tolerance[:, None], -np.inf).max(axis=1, initial=-np.inf)
    for rows, limit in rules.together:
        now, then = (x[:, list(rows)].sum(axis=1) for x in (was, force))
        over = np.maximum(over, now + np.maximum(sudden[:, 0] * (then - now), 0.0) - limit)
    load = building_load(rules, was)
    highest = load + np.maximum(sudden[:, 0] * (building_load(rules, force) - load), 0.0)
    over = np.maximum(over, highest - rules.total) - ROUNDING * np.abs(was).sum(axis=1)
    held = np.stack([s.held for s in afters])  # (M, B)
    return _judged(rules, moves, ways, middle(load), held, over, far, highest)


def _judged(
    rules: Rules,
    moves: list[Move],
    ways: list[Way],
    likely: Array,
    held: Bools,
    over: Array,
    far: Array,
    highest: Array,
) -> list[Judged]:
    inside = held & (over <= 0.0) & (far <= 0.0)
    shares = [x.mean(axis=1).tolist() for x in (inside, held, over <= 0.0, far <= 0.0)]
    batch = over.shape[1]
    excess = np.sort(np.maximum(over, 0.0), axis=1)[:, min(int(rules.share * batch), batch - 1)]
    peaks = middle(highest)
    return [
        Judged(
            move=move,
            peak=float(peaks[i]),
            exposure=float(likely[i]) * way.minutes,
            minutes=way.minutes,
            method=way.method,
            refused=_refusal(rules.share, *(s[i] for s in shares)),
            excess=float(excess[i]),
            good=shares[0][i],
        )
        for i, (move, way) in enumerate(zip(moves, ways, strict=True))
    ]


def _refusal(wanted: float, inside: float, held: float, light: float, near: float) -> str:
    if inside >= wanted:
        return ""
    if held < wanted:
        return "what is left would not be held"
    if light <= near:
        return "a support would carry more than its limit"
    return "what is left would move more than its tolerance"
