"""What the crew wants of the order is obeyed, and what a change does is what the lever says."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from tests.unit.planning.invented import LENGTH, PER_METRE, job, log, saddle

from bolewright.core.base.errors import BadInput
from bolewright.core.contact.state import solve_states
from bolewright.core.cutting.handling import HandlingLimits
from bolewright.core.cutting.order import Asked, Judged, Move, PieceTree, find_order
from bolewright.job.faults import JobFaults
from bolewright.job.syntax import tables_of
from bolewright.planning import cuts
from bolewright.planning.holding.model import model_of
from bolewright.planning.order.facts import facts_of
from bolewright.planning.order.nextcuts import next_cuts
from bolewright.planning.order.ownprops import with_props_set
from bolewright.planning.order.rules import worth_solving
from bolewright.planning.order.search import Memory, _judges
from bolewright.planning.order.wanted import stays_and_waits
from bolewright.planning.order.whatif import what_if

SMALL = Path(__file__).resolve().parents[2] / "functional" / "data" / "small-stem.toml"
TWO = [saddle("butt", 0.5, "ground"), saddle("roof", 9.0, "roof")]


def small(**more: Any) -> dict[str, Any]:
    """A small job that has an order."""
    return {**tables_of(SMALL.read_text(encoding="utf-8")), **more}


def order_of(tables: dict[str, Any]) -> list[tuple[str, ...]]:
    """What leaves with each cut, in order; empty when there is no order."""
    return [s.takes for s in cuts(job(tables)).chosen.steps if s.action != "place"]


def test_wood_marked_never_is_in_no_step() -> None:
    """With the mark the limb is still there at the end, held, with what holds it; the plan says what stays."""
    free = [piece for takes in order_of(small()) for piece in takes]
    marked = small(leave=[{"member": "L1", "at": "3 ft"}])
    plan = cuts(job(marked)).chosen
    taken = [piece for step in plan.steps for piece in step.takes]
    assert "L1" in free
    assert taken
    assert "L1" not in taken
    stays = [piece for piece in ("S1", "S2", "S3", "S4", "L1", "L2") if piece in free and piece not in taken]
    assert (
        f" {', '.join(stays)} stay on: L1 as marked; {', '.join(p for p in stays if p != 'L1')} because "
        in plan.summary
    )
    assert "The building still carries" in plan.summary
    model = model_of(job(marked))
    keep = np.array([p.id in stays for p in model.body.pieces])
    everything = np.ones(model.system.count, dtype=bool)
    assert solve_states(model.system, [keep], [everything])[0].held.all()


def test_not_yet_means_not_before() -> None:
    """Whichever of two limbs comes off first by itself, the mark turns it round."""
    free = [piece for takes in order_of(small()) for piece in takes if piece in ("L1", "L2")]
    first, second = free
    marked = order_of(small(leave=[{"member": first, "at": "3 ft", "until": second}]))
    steps = {piece: n for n, takes in enumerate(marked) for piece in takes}
    assert steps[second] < steps[first]


def test_a_cut_that_takes_marked_wood_says_so() -> None:
    """It stays in the table of next cuts, refused by name."""
    marks = [{"member": "L1", "at": "3 ft"}, {"member": "L2", "at": "1 ft", "until": "L1"}]
    rows = {c.piece: c for c in next_cuts(model_of(job(small(leave=marks))))}
    assert not rows["L1"].allowed
    assert rows["L1"].why == "L1 is marked never to be taken"
    assert rows["L2"].why == "L2 is marked to wait until L1 is off"


def test_no_order_is_explained_by_the_marks() -> None:
    """A mark that leaves no way is named in the dead end."""
    waits = [{"member": "L1", "at": "3 ft", "until": "L2"}, {"member": "L2", "at": "3 ft", "until": "L1"}]
    plan = cuts(job(small(leave=waits))).chosen
    assert plan.status == "no plan"
    assert "L1 until L2 is off; L2 until L1 is off" in plan.dead_end


BOTH_LIMBS = [{"member": "L1", "at": "3 ft"}, {"member": "L2", "at": "3 ft"}]
UPPER_STEM = [{"member": "stem", "at": "8 ft"}, {"member": "stem", "at": "23 ft"}]
TRUCK = [{"section": f"{size} mm", "length": "4 m", "count": 6} for size in ("100 x 100", "60 x 160")]


@pytest.mark.parametrize(
    ("tables", "why"),
    [
        (
            log(TWO, leave=[{"member": "stem", "at": "0.2 m"}, {"member": "stem", "at": "9.9 m"}]),
            "is still on (S1, S2,",
        ),
        (log(TWO, cuts=[3.0, 6.0], leave=[{"member": "stem", "at": "5 m"}]), "S2 is marked never to be taken, and"),
        (small(leave=[*BOTH_LIMBS, *UPPER_STEM]), "S2, S3, L1, L2 are marked never to be taken, and would not be held"),
    ],
)
def test_marks_that_leave_nothing_to_cut_are_no_plan(tables: dict[str, Any], why: str) -> None:
    """All of the log marked; its middle, which needs both ends to lie on; and all but a butt that carries the rest. The
    next cuts are told all the same."""
    answer = cuts(job(tables))
    assert (answer.status, answer.chosen.status, answer.chosen.steps) == ("no plan", "no plan", ())
    assert answer.chosen.dead_end.startswith("The marks leave nothing to cut: ")
    assert why in answer.chosen.dead_end
    assert answer.next_cuts
    assert not any(cut.allowed for cut in answer.next_cuts)


def test_an_order_that_leaves_nothing_behind_goes_first() -> None:
    """A butt that carries marked wood: by hand a twig comes off and the butt has to stay, and the plan says so; with a
    prop under the marked wood the butt comes off too, and that is the plan."""
    tables = small(leave=[*BOTH_LIMBS, *UPPER_STEM], truck=TRUCK)
    twig = {**tables["tree"]["limb"][0], "id": "L3", "at": "22 ft", "length": "4 ft", "diameter": "2.5 in",
            "tip_diameter": "1 in"}  # fmt: skip
    tables["tree"] = {**tables["tree"], "limb": [*tables["tree"]["limb"], twig]}
    answer = cuts(job(tables))
    assert answer.chosen.title == "with props"
    assert {piece for step in answer.chosen.steps for piece in step.takes} == {"S1", "L3"}
    assert " S2, S3, L1, L2 stay on. " in answer.chosen.summary
    (hand,) = answer.alternatives
    assert [step.takes for step in hand.steps] == [("L3",)]
    assert "S1 because the rest would not be held with less wood on" in hand.summary


def test_what_stays_stays_in_one_piece() -> None:
    """Two marked limbs keep the wood between them, and no more."""
    marks = [{"member": "L1", "at": "3 ft"}, {"member": "L2", "at": "3 ft"}]
    cut = [{"at": f"{at} ft"} for at in (6, 14, 18, 22)]
    model = model_of(job(small(leave=marks, cut=cut)))
    stays, _ = stays_and_waits(model)
    assert {p.id for i, p in enumerate(model.body.pieces) if stays >> i & 1} == {"L1", "L2", "S2", "S3"}


def test_the_search_never_takes_what_waits() -> None:
    """A chain of four, the tip waiting for nothing and the others for the tip: only the order from the tip is left."""
    tree = PieceTree(parent=(-1, 0, 1, 2), waits=((0b0001, 0b1000), (0b0110, 0b1000)))

    class ByPieces:
        def at_least(self, state: int, moves: list[Move]) -> list[Judged]:
            return self.judged([(state, m) for m in moves])

        def judged(self, asked: Asked) -> list[Judged]:
            return [Judged(m, 1.0, float(m.takes.bit_count()), 1.0, "carry") for _, m in asked]

    order = find_order(tree, ByPieces(), 1.0)
    assert order.found
    assert order.steps[0].move.takes == 0b1000


@pytest.mark.parametrize(("at", "force"), [(4.0, 800.0), (7.0, 500.0)])
def test_a_jacked_prop_takes_off_what_the_lever_says(at: float, force: float) -> None:
    """Moments about the butt's support (statics): a push F at x takes F (x - a) / (b - a) off the roof's b."""
    seen = what_if(job(log(TWO)), job(log(TWO, prop=[{"id": "P", "at": f"{at} m", "jacked": f"{force} N"}])))
    off = force * (at - 0.5) / (9.0 - 0.5)
    assert seen.change_N is not None
    for value in (seen.change_N.low, seen.change_N.likely, seen.change_N.high):
        assert value == pytest.approx(-off, rel=1e-3)  # the jack's own force is met to 1 in 1000
    whole = PER_METRE * LENGTH * (LENGTH / 2 - 0.5) / 8.5
    assert seen.before.building_N.likely == pytest.approx(whole, rel=0.01)
    assert seen.after.building_N.likely == pytest.approx(whole - off, rel=0.01)


def test_the_change_is_taken_sample_by_sample() -> None:
    """The range of the change is that of the paired differences, not of two ranges subtracted."""
    plain, line = log(TWO), {"id": "T", "at": "9 m", "kind": "crane", "pull": "400 N",
                             "anchor": {"forward": "9 m", "right": "0 m", "height": "20 m"}}  # fmt: skip
    seen = what_if(job(plain), job({**plain, "line": [line]}))
    assert seen.change_N is not None
    assert seen.change_N.high - seen.change_N.low < 0.05 * (seen.before.building_N.high - seen.before.building_N.low)
    assert seen.change_N.likely == pytest.approx(-400.0, rel=0.02)


def test_own_props_are_set_first_and_counted_with() -> None:
    """The plan with them stands beside the others, begins with them, and says what they carry."""
    found = cuts(job(small(prop=[{"id": "mine", "at": "12 ft"}], truck=[
        {"section": "4x4", "length": "8 ft", "count": 8, "species": "Douglas-fir", "grade": "No. 2"}
    ])))  # fmt: skip
    plan = next(p for p in (found.chosen, *found.alternatives) if p.title == "with your props")
    assert plan.steps[0].action == "place"
    assert plan.places[0].id == "mine"
    assert plan.places[0].at_m == pytest.approx(12 * 0.3048)
    assert "mine" in plan.steps[1].forces_before


def test_a_prop_that_is_set_already_is_not_set_again() -> None:
    """Once it stands among the steps done it is no longer planned."""
    wanted = [{"id": "P", "at": "4 m", "jacked": "800 N"}]
    done = [{"what": "prop", "at": "4 m", "id": "P", "jacked": "800 N"}]
    once, both = (with_props_set(job(log(TWO, **m))) for m in ({"done": done}, {"done": done, "prop": wanted}))
    assert len(once.contacts) == len(both.contacts)
    assert np.allclose(once.now.force, both.now.force)


def test_props_show_their_forces_together() -> None:
    """Two jacked and a snug one: the roof is relieved of what the lever says of both, every step of setting them shows
    the forces of those set by then, and the second method agrees; the same once they are among the steps done."""
    wanted = [{"id": "P", "at": "4 m", "jacked": "600 N"}, {"id": "Q", "at": "7 m", "jacked": "900 N"},
              {"id": "R", "at": "5 m"}]  # fmt: skip
    truck = [{**timber, "count": 12} for timber in TRUCK]
    handling = {"drop": "2000 kg", "roll": "2000 kg"}
    found = cuts(job(log(TWO, prop=wanted, truck=truck, handling=handling)))
    plan = next(p for p in (found.chosen, *found.alternatives) if p.title == "with your props")
    set_up = [step for step in plan.steps if step.action == "place"]
    shown = [{k: step.forces_after[k].likely for k in ("P", "Q", "R") if k in step.forces_after} for step in set_up]
    assert shown[0] == pytest.approx({"P": 600.0}, rel=1e-6)
    assert shown[1] == pytest.approx({"P": 600.0, "Q": 900.0}, rel=1e-6)
    assert shown[2] == pytest.approx({"P": 600.0, "Q": 900.0, "R": 0.0}, rel=1e-6, abs=1e-3)
    off = sum(force * (at - 0.5) / 8.5 for at, force in ((4.0, 600.0), (7.0, 900.0)))
    roof = (set_up[0].forces_before["roof"].likely, set_up[-1].forces_after["roof"].likely)
    assert roof[0] - roof[1] == pytest.approx(off, rel=1e-3)  # likely values are medians of samples
    assert all(step.recheck.startswith("agrees") for step in set_up)
    assert "go round them again until all are as they were: P jacked to 0.6 kN" in set_up[1].why
    done = [{"what": "prop", **prop} for prop in wanted]
    models = [with_props_set(job(log(TWO, **m))) for m in ({"prop": wanted}, {"done": done})]
    assert np.allclose(models[0].now.force, models[1].now.force, atol=1e-6)


def test_props_that_would_lift_the_tree_off_are_refused() -> None:
    with pytest.raises(BadInput, match="lifted off what it rests on"):
        with_props_set(job(log(TWO, prop=[{"id": "P", "at": "4 m", "jacked": "20 kN"}])))


def test_a_prop_where_none_can_stand_is_refused() -> None:
    """In words, with its path."""
    with pytest.raises(BadInput, match="no room on the ground"):
        with_props_set(job(small(prop=[{"id": "P", "at": "0 ft"}])))


@pytest.mark.parametrize(
    ("leave", "said"),
    [
        ({"member": "L9", "at": "1 ft"}, "no stem or limb called"),
        ({"member": "L1", "at": "40 ft"}, "beyond the end"),
        ({"member": "L1", "at": "1 ft", "until": "L1"}, "cannot wait for it"),
        ({"member": "L1", "at": "1 ft", "until": "stem"}, "waits for a limb"),
    ],
)
def test_marks_that_cannot_be_are_told(leave: dict[str, Any], said: str) -> None:
    """With the row they stand in."""
    with pytest.raises(JobFaults, match=said) as told:
        job(small(leave=[leave]))
    assert any(f.path.startswith("leave[0]") for f in told.value.faults)


def test_a_way_out_is_chosen_by_the_heavy_end_of_all_samples() -> None:
    """The judge that looks at a few samples while an order is searched takes or refuses a line by the weight in all of
    them: 95 % of the samples lie below what counts."""
    model = model_of(job(small()))
    facts, present = facts_of(model), np.ones(model.system.count, dtype=bool)
    takes = 0b11
    heavy = float(np.sort(facts.mass[:2].sum(axis=0))[int(np.ceil(0.95 * (len(facts.mass[0]) - 1)))])
    for line, refused in ((heavy * 1.0001, False), (heavy * 0.9999, True)):
        limits = HandlingLimits(carry=0.0, drop=0.0, roll=0.0, line=line)
        for judge in _judges(model, facts, limits, worth_solving(model, present), {}, Memory()):
            judge.ways.clear()
            assert bool(judge.way(takes).refused) == refused
