"""A refused cut in full: which point would carry too much, or move too far, and by how much."""

from __future__ import annotations

import numpy as np

from bolewright.core.contact.actions import Array
from bolewright.core.contact.state import Bools
from bolewright.core.cutting.judge import Judge, Seen, bits_to_mask
from bolewright.core.cutting.order import Judged
from bolewright.planning.both import both_lengths, both_units
from bolewright.planning.holding.model import Model
from bolewright.planning.holding.motions import falling

ALL_OF_IT = "the building in all"


def in_full(model: Model, present: Bools, judge: Judge, state: int, judged: Judged) -> str:
    """Why a cut in this state (bits) is refused, with the point that stops it or how what is left would go.

    present (n,): contacts of the model in place.
    """
    if not judged.method or not judged.refused:
        return judged.refused
    before, after = judge.state(state), judge.state(judged.move.after)
    if not _mostly_held(judge, after):
        return f"{judged.refused}{_going(model, present, after, judged.move.after)}"
    sudden = judge.way(judged.move.takes).sudden
    heavy, far = _too_heavy(judge, before, after, sudden), _too_far(judge, before, after)
    return heavy[1] if heavy[0] >= far[0] else far[1]


def _going(model: Model, present: Bools, after: Seen, bits: int) -> str:
    """How what is left starts to go, in one of the samples in which it is not held."""
    real = present & np.array([c.kind != "possible" for c in model.contacts], dtype=bool)
    motion = falling(model, bits_to_mask(bits, len(model.body.pieces)), real, int(np.flatnonzero(~after.held)[0]))
    return "" if motion.kind == "held" else f", {motion.words}"


def _mostly_held(judge: Judge, after: Seen) -> bool:
    return bool(after.held.mean() >= judge.rules.share)


def _too_heavy(judge: Judge, before: Seen, after: Seen, sudden: float) -> tuple[float, str]:
    """Share of the samples in which the worst point goes over its limit, and the sentence about it."""
    rules = judge.rules
    rise = np.maximum(sudden * (after.force - before.force), 0.0)
    peak, limit = before.force + rise, rules.limit
    over = np.where(after.here[:, None], peak > limit, False).mean(axis=1)
    worst = int(over.argmax())
    for rows, most in rules.together:
        was = before.force[list(rows)].sum(axis=0)
        both = was + np.maximum(sudden * (after.force[list(rows)].sum(axis=0) - was), 0.0)
        if float((both > most).mean()) > float(over[worst]):
            return float((both > most).mean()), _over(judge.system.contacts[rows[0]].id, both, most)
    now = before.force[rules.building].sum(axis=0)
    whole = now + np.maximum(sudden * (after.force[rules.building].sum(axis=0) - now), 0.0)
    if float((whole > rules.total).mean()) > float(over[worst]):
        return float((whole > rules.total).mean()), _over(ALL_OF_IT, whole, rules.total)
    return float(over[worst]), _over(judge.system.contacts[worst].id, peak[worst], limit[worst])


def _over(name: str, peak: Array, limit: Array) -> str:
    """The typical one of the samples that go over."""
    bad = peak > limit
    if not bad.any():
        return ""
    load, most = float(np.median(peak[bad])), float(np.median(limit[bad]))
    return f"{name} would carry {both_units(load)}, its limit is {both_units(most)}"


def _too_far(judge: Judge, before: Seen, after: Seen) -> tuple[float, str]:
    """Share of the samples in which the worst point moves too far, and the sentence about it."""
    both = after.here & before.here
    moved = np.where(both[:, None], after.rise - before.rise, 0.0)
    far = (np.abs(moved) > judge.rules.tolerance[:, None]).mean(axis=1)
    worst = int(np.argmax(far + 1e-3 * np.abs(np.median(moved, axis=1))))
    way = float(np.median(moved[worst]))
    word = "rise" if way > 0.0 else "drop"
    name = judge.system.contacts[worst].id
    return float(far[worst]), f"what is left would move: {name} would {word} {both_lengths(abs(way))}"
