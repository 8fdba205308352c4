"""Where the tree is cut into pieces: nothing lost, clear of what holds, no more than the search can take."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from tests.unit.planning.invented import job, log, random_job, saddle

from bolewright.core.tree.assembly import place
from bolewright.planning.holding.body import Body, body_of
from bolewright.planning.pieces import CLEAR, MOST_PIECES, MOST_STATES, states_of_work

SEEDS = range(40)


@pytest.fixture(scope="module", params=SEEDS)
def body(request: pytest.FixtureRequest) -> tuple[int, Body]:
    """A random tree divided."""
    return request.param, body_of(job(random_job(request.param)))


def test_every_run_of_every_member_is_in_one_piece(body: tuple[int, Body]) -> None:
    """Along each member the pieces follow each other from its base to its tip without gap or overlap."""
    for member in body[1].assembly.members:
        own = [p for p in body[1].pieces if p.member == member]
        ends = [body[1].assembly.stub_of(member)] + [p.end for p in own]
        assert [p.start for p in own] == pytest.approx(ends[:-1])
        assert ends[-1] == pytest.approx(body[1].assembly.length_of(member))
    assert set(body[1].labels.tolist()) == set(range(len(body[1].pieces)))


def test_cuts_stay_clear_of_supports_lines_and_unions(body: tuple[int, Body]) -> None:
    """At least 25 cm and half a diameter from every place where something holds or grows: room for saw and wedge."""
    entered = job(random_job(body[0]))
    for piece in body[1].pieces:
        if piece.start <= body[1].assembly.stub_of(piece.member) + 1e-9:
            continue  # the base of a limb is where the limb comes off
        places = [s.at.likely for s in entered.support if s.member == piece.member]
        places += [line.at.likely for line in entered.line if line.member == piece.member]
        places += [limb.at.likely for limb in entered.tree.limb if limb.on == piece.member]
        room = max(CLEAR, place(body[1].assembly, piece.member, piece.start).diameter / 2.0)
        if places:
            assert np.abs(np.array(places) - piece.start).min() >= room - 1e-9


def test_no_more_pieces_than_the_search_takes(body: tuple[int, Body]) -> None:
    assert len(body[1].pieces) <= MOST_PIECES or connected(body[1].parents.tolist()) <= MOST_STATES


def connected(parents: list[int]) -> int:
    """How many connected parts a tree of pieces has, found by growing each of them a piece at a time."""
    found = {frozenset([p]) for p in range(len(parents))}
    row = found
    while row:
        joined = {(part, p) for part in row for p in range(len(parents)) if p not in part}
        row = {part | {p} for part, p in joined if parents[p] in part or any(parents[q] == p for q in part)} - found
        found = found | row
    return len(found)


def test_a_long_stem_comes_off_in_more_pieces_than_a_spreading_tree() -> None:
    """Less than half a metre of this log for two people: too many pieces for a tree with limbs, few states in a row."""
    pieces = body_of(job(over_the_roof("26 kg"))).pieces
    assert len(pieces) > MOST_PIECES
    assert max(p.end - p.start for p in pieces if p.start > 1.0 and p.end < 9.0) < 0.5


@pytest.mark.parametrize("hand", ["26 kg", "40 kg", "50 kg"])
def test_a_tip_too_heavy_to_be_carried_leaves_the_rest_cut_up(hand: str) -> None:
    """Nothing shorter than 0.75 m can be cut at the tip, clear of its support: 51 kg. Inward the pieces are short."""
    tip, *others = reversed(body_of(job(over_the_roof(hand))).pieces)
    assert 0.75 <= tip.end - tip.start <= 0.9
    assert max(p.end - p.start for p in others if p.start > 1.0) < 0.75


def test_states_of_work_are_the_connected_parts(body: tuple[int, Body]) -> None:
    """Counted from what each piece carries, and by growing every part."""
    cuts = [(p.member, p.start) for p in body[1].pieces if p.start > body[1].assembly.stub_of(p.member)]
    assert states_of_work(job(random_job(body[0])), body[1].assembly, cuts) == connected(body[1].parents.tolist())


def test_every_piece_hangs_on_one_before_it(body: tuple[int, Body]) -> None:
    parents = body[1].parents
    assert parents[0] == -1
    assert all(0 <= parents[p] < p for p in range(1, len(parents)))


def test_cuts_that_were_asked_for_are_made() -> None:
    """Entered cuts are the cuts of their member, and no others are added there."""
    supports = [saddle("near", 1.0, "ground"), saddle("far", 8.0, "wall")]
    pieces = body_of(job(log(supports, [3.0, 6.5]))).pieces
    assert [(p.id, round(p.start, 3), round(p.end, 3)) for p in pieces] == [
        ("S1", 0.0, 3.0),
        ("S2", 3.0, 6.5),
        ("S3", 6.5, 10.0),
    ]


def over_the_roof(hand: str) -> dict[str, Any]:
    """The log with all of it over a house and nothing but hands that take so much."""
    house = {"id": "h", "near": "-1 m", "far": "12 m", "left": "3 m", "right": "3 m", "eave": "1 m"}
    supports = [saddle("near", 0.5, "wall"), saddle("far", 9.5, "wall")]
    handling = {"hand": hand, "drop": "1 kg", "roll": "1 kg", "line": "1 kg"}
    return log(supports, building=[house], handling=handling)


def test_pieces_are_small_enough_to_carry_where_nothing_else_may_be_done() -> None:
    """A log over the roof with nothing but hands: every piece that could be cut shorter is within the hand limit.

    64 kg a metre of log: 36 kg, 80 lb, are 0.57 m, heavy end 5 % over density and 3 % over diameter squared less.
    """
    pieces = body_of(job(over_the_roof("80 kg"))).pieces
    per_metre = 900.0 * np.pi * 0.3**2 / 4
    lengths = [p.end - p.start for p in pieces]
    assert len(pieces) > 8
    middle = [length for p, length in zip(pieces, lengths, strict=True) if p.start > 1.0 and p.end < 9.0]
    assert max(middle) * per_metre <= 80.0
    assert min(middle) * per_metre > 40.0  # and not needlessly short
