"""Every cut possible now: what it does to the building and to what stays, and what the section does to the saw."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from bolewright.core.base.range import Range
from bolewright.core.contact.state import State, solve_states
from bolewright.core.cutting.judge import Judge, bits_to_mask, mask_to_bits, pieces_of
from bolewright.core.cutting.order import Judged, Move, PieceTree, moves_from
from bolewright.core.tree.pieces import subtree
from bolewright.planning.holding.full import typical_sample
from bolewright.planning.holding.hold import building_load, stability_of
from bolewright.planning.holding.model import Model
from bolewright.planning.order.facts import facts_of
from bolewright.planning.order.refused import in_full
from bolewright.planning.order.rules import rules_of
from bolewright.planning.order.search import piece_tree
from bolewright.planning.order.sections import bind_of, cut_place
from bolewright.planning.order.wanted import kept_on
from bolewright.planning.results import NextCut


def next_cuts(model: Model) -> tuple[NextCut, ...]:
    """Every cut possible now, the ones that help the building most first."""
    facts, tree, begin = facts_of(model), piece_tree(model), mask_to_bits(model.left)
    present = np.ones(model.system.count, dtype=bool)
    judge = Judge(model.system, tree, rules_of(model, {}), facts, model.body.limits, present)
    bare = replace(tree, stays=0, waits=())  # what is marked to stay on is listed too, with that as the reason
    moves = [m for m in moves_from(bare, tree.beyond(), begin) if m.at >= 0 and _worth_a_row(m)]
    keeps = [bits_to_mask(m.after, len(tree.parent)) for m in moves]
    states = solve_states(model.system, keeps, [present] * len(keeps)) if keeps else []
    for move, state in zip(moves, states, strict=True):
        judge.remember(move.after, state)
    rows = [
        _row(model, judge, tree, j, _against(model, judge, tree, begin, j), state)
        for j, state in zip(judge(begin, moves), states, strict=True)
    ]
    return tuple(sorted(rows, key=lambda r: (not r.allowed, r.building_change_N.likely)))


def _against(model: Model, judge: Judge, tree: PieceTree, begin: int, j: Judged) -> str:
    """What stands against a cut, the crew's own marks first."""
    marked = kept_on(model, begin, j.move.takes, tree.stays, tree.waits)
    return marked or in_full(model, judge.present, judge, begin, j)


def _worth_a_row(move: Move) -> bool:
    """The butt side only where it is the butt piece alone."""
    takes = pieces_of(move.takes)
    return move.at in takes or takes == [0]


def _row(model: Model, judge: Judge, tree: PieceTree, j: Judged, refused: str, state: State) -> NextCut:
    takes, pieces = pieces_of(j.move.takes), model.body.pieces
    far_leaves = j.move.at in takes
    after, now = judge.seen[j.move.after], building_load(model, model.now)
    change = (after.force[judge.rules.building].sum(axis=0) - now)[after.held] if after.held.any() else np.zeros(1)
    cut = cut_place(model, j.move.at)
    beyond = subtree(model.body.parents)[j.move.at]
    here = model.now.held.any()
    return NextCut(
        piece=pieces[j.move.at if far_leaves else 0].id,
        takes=tuple(pieces[p].id for p in takes),
        mass_kg=Range.of_samples(judge.facts.mass[takes].sum(axis=0)),
        building_change_N=Range.of_samples(change),
        allowed=not refused,
        why=refused or j.method,
        member=cut.member,
        at_m=cut.at,
        bind=bind_of(model, model.now, state, cut, beyond, far_leaves) if here else None,
        held_share=float(after.held.mean()),
        margins_m=None if j.move.after in tree.ends else _margins(model, state),
    )


def _margins(model: Model, state: State) -> tuple[float, float] | None:
    """How far the weight of what stays may shift before it tips and before it rolls [m]; None where it is not held."""
    if not state.held.any():
        return None
    sample = typical_sample(state)
    rests = model.resting | (state.force[:, sample] > 0.0)
    found = stability_of(model, state.keep, state.present & rests, sample)
    return found.tipping, found.rolling
