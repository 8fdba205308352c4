"""A tree gone over with its root plate: the stub stays on the plate, or nothing is cut free that may fall."""

from __future__ import annotations

import pytest
from tests.unit.planning.invented import Tables, job, saddle

from bolewright.planning import cuts, hold
from bolewright.planning.holding.model import model_of
from bolewright.planning.order.search import piece_tree
from bolewright.planning.results import CutsResult

PLATE, STUB = 2.0, 2.2  # m; a stub longer than the plate is high cannot let it fall on whoever cuts


def uprooted(plate: str = "0.5 m", butt: str = "0.4 m", wall: float = 9.0) -> Tables:
    """A stem of 12 m with its butt a metre up on its root plate and its tip on a wall."""
    return {
        "schema": 1,
        "job": {"title": "Uprooted"},
        "tree": {
            "species": "northern red oak",
            "attached": "root plate",
            "root_plate": {"diameter": f"{PLATE} m", "thickness": plate, "soil": "clay"},
            "stem": [
                {"at": "0 m", "diameter": butt, "height": "0.8 m"},
                {"at": "12 m", "diameter": "0.15 m", "height": "2.4 m"},
            ],
        },
        "support": [saddle("wall", wall, "wall")],
        "building": [{"id": "h", "near": "8.5 m", "far": "16 m", "left": "4 m", "right": "4 m", "eave": "2 m"}],
        "handling": {"line": "700 kg", "drop": "500 kg", "roll": "900 kg"},
        "limits": {"samples": 64, "floor": "15 %", "movement": "20 cm"},
    }


@pytest.fixture(scope="module")
def result() -> CutsResult:
    return cuts(job(uprooted()))


def test_a_heavy_plate_stands_up_with_a_short_stub() -> None:
    """Clay of 2 m by 0.5 m is 3 t: with a stub of half a metre of 0.4 m oak (60 kg) it drops back into its hole."""
    outcomes = {round(o.stub_m, 1): o.outcome for o in hold(job(uprooted())).plate}
    assert outcomes[0.3] == "stands up"
    assert all(sum(o.share.values()) == pytest.approx(1.0) for o in hold(job(uprooted())).plate)


def test_the_plan_ends_with_the_stub_on_its_plate(result: CutsResult) -> None:
    """Whatever the order, the piece at the butt is not carried, rolled or lifted away: it stays on its plate."""
    assert result.status == "plan"
    gone = {piece for step in result.chosen.steps if step.method != "left on its root plate" for piece in step.takes}
    assert "S1" not in gone
    assert gone


def test_planned_again_with_only_the_stub_left_nothing_is_cut(result: CutsResult) -> None:
    """Carried out to the end: no order is looked for, and the stub, which may stand up, is not called unheld."""
    done = [{"member": step.member, "at": f"{step.at_m} m"} for step in result.chosen.steps]
    again = cuts(job({**uprooted(), "done": done}))
    assert again.status == "plan"
    assert not again.chosen.steps
    assert "Only the stub on its root plate is left" in again.chosen.summary


def test_the_stub_is_longer_than_the_plate_is_high() -> None:
    model = model_of(job(uprooted()))
    first = model.body.pieces[0]
    assert first.id == "S1"
    assert first.end >= STUB - 1e-9


def test_stubs_that_stand_or_stay_end_the_work() -> None:
    """End states of the search: the stub alone and longer stubs clear of the building, none that reaches over it."""
    model = model_of(job(uprooted()))
    tree = piece_tree(model)
    assert 0b1 in tree.ends
    over = [p for p, piece in enumerate(model.body.pieces) if piece.end > 8.5]
    assert all(not bits >> p & 1 for bits in tree.ends for p in over)


def test_a_plate_that_would_fall_forward_is_not_cut_free() -> None:
    """A thin light plate, a metre-thick butt: the stub outweighs it, so no end state is accepted."""
    model = model_of(job(uprooted(plate="0.12 m", butt="0.9 m")))
    assert piece_tree(model).ends == frozenset()
    assert all(o.outcome != "stands up" for o in hold(job(uprooted(plate="0.12 m", butt="0.9 m"))).plate[4:])
