"""Crews and machines side by side: nothing twice at once, nothing before its turn, and never below a bound."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.functional.results import cut

from bolewright.core.base.range import Range
from bolewright.planning.haul.daywork import day_plan
from bolewright.planning.haul.out import out
from bolewright.planning.haul.schedule import Calendar, Run, Work, least_hours, schedule
from bolewright.planning.results import CutsResult

from .out_jobs import WHOLE, job

LONG = Calendar(0.0, 24.0)
LETTERS = "abcdef"


@st.composite
def some_work(draw: st.DrawFn) -> list[Work]:
    """Two to five tasks of whole hours, each after some of those before it, some on the one machine."""
    found: list[Work] = []
    for name in LETTERS[: draw(st.integers(2, 5))]:
        after = tuple(task.id for task in found if draw(st.integers(0, 2)) == 0)
        found.append(Work(name, float(draw(st.integers(1, 3))), after, draw(st.sampled_from(("", "", "cart")))))
    return found


def shortest(tasks: list[Work], crews: int) -> float:
    """The best end there is: every order of starting, each task as early as crew, cart and turn allow.

    Starting tasks as early as they can be, in every order, meets an optimum for the length of a schedule
    (Sprecher, Kolisch and Drexl 1995: an active schedule among the optimal ones).
    """
    best = float("inf")
    for order in permutations(tasks):
        ends: dict[str, float] = {}
        runs: list[tuple[float, float, str]] = []
        for task in order:
            if not all(name in ends for name in task.after):
                break
            start = max((ends[name] for name in task.after), default=0.0)
            while any(
                sum(a <= t < b for a, b, _ in runs) >= crews
                or (task.machine and any(a <= t < b and m == task.machine for a, b, m in runs))
                for t in [start + 0.5 * n for n in range(int(2 * task.hours))]
            ):
                start += 1.0
            ends[task.id] = start + task.hours
            runs.append((start, start + task.hours, task.machine))
        else:
            best = min(best, max(ends.values()))
    return best


def check(tasks: list[Work], runs: tuple[Run, ...], crews: int) -> None:
    """Every task done once, in its turn, by a crew that does nothing else."""
    of = {task.id: task for task in tasks}
    starts = {name: min(run.start for run in runs if run.id == name) for name in of}
    ends = {name: max(run.end for run in runs if run.id == name) for name in of}
    for task in tasks:
        assert sum(run.end - run.start for run in runs if run.id == task.id) == pytest.approx(task.hours)
        assert all(starts[task.id] >= ends[name] - 1e-9 for name in task.after)
    for one in runs:
        assert 1 <= one.crew <= crews
        for other in runs:
            together = one is not other and one.start < other.end - 1e-9 and other.start < one.end - 1e-9
            assert not (together and one.crew == other.crew)
            assert not (together and of[one.id].machine and of[one.id].machine == of[other.id].machine)


@settings(max_examples=60, deadline=None)
@given(some_work(), st.integers(1, 3))
def test_against_every_order_there_is(tasks: list[Work], crews: int) -> None:
    """Bound <= best <= found; with one crew all three are the same."""
    runs = schedule(tasks, crews, {"cart": 1}, LONG)
    check(tasks, runs, crews)
    found, best, least = max(run.end for run in runs), shortest(tasks, crews), least_hours(tasks, crews, {"cart": 1})
    assert least <= best + 1e-9
    assert best <= found + 1e-9
    if crews == 1:
        assert least == pytest.approx(found) == pytest.approx(sum(task.hours for task in tasks))


def test_two_crews_share_what_can_be_shared() -> None:
    """a, then b and c side by side, then d: 1 + 2 + 1 with two crews, 1 + 2 + 2 + 1 with one cart for both."""
    tasks = [Work("a", 1.0), Work("b", 2.0, ("a",)), Work("c", 2.0, ("a",)), Work("d", 1.0, ("b", "c"))]
    assert max(run.end for run in schedule(tasks, 2, {}, LONG)) == pytest.approx(4.0)
    carted = [Work(t.id, t.hours, t.after, "cart" if t.id in "bc" else "") for t in tasks]
    assert max(run.end for run in schedule(carted, 2, {"cart": 1}, LONG)) == pytest.approx(6.0)
    assert max(run.end for run in schedule(carted, 2, {"cart": 2}, LONG)) == pytest.approx(4.0)


def test_no_cut_is_begun_that_dark_or_wind_would_stop() -> None:
    """Light from 8 to 12; gusts over the limit from 9 to 10 on the first day."""
    calendar = Calendar(8.0, 12.0, ((9.0, 10.0),))
    cut = Work("cut", 1.5, off_ground=True, in_one_go=True)
    assert schedule([cut], 1, {}, calendar) == (Run("cut", 10.0, 11.5, 1, 0),)
    late = [Work("move", 3.0), Work("cut", 1.5, ("move",), off_ground=True, in_one_go=True)]
    assert schedule(late, 1, {}, calendar)[1].start == 24.0 + 8.0
    # moving goes on the next morning, and so does a cut that no day is long enough for
    assert [(run.start, run.end) for run in schedule([Work("move", 5.0)], 1, {}, calendar)] == [(8, 12), (32, 33)]
    longer = Work("cut", 6.0, in_one_go=True)
    assert [(run.start, run.end) for run in schedule([longer], 1, {}, calendar)] == [(8, 12), (32, 34)]


@pytest.mark.parametrize("crews", [1, 2, 3])
def test_tasks_of_a_job_add_up_to_its_hours(crews: int) -> None:
    """Step by step, and in the bars; more crews end sooner but never sooner than the bound."""
    own = job(WHOLE + f"\n[day]\ncrews = {crews}\n")
    result = out(own)
    for step in result.steps:
        parts = [task.hours for task in result.tasks if task.step == step.step]
        if parts:
            assert sum(part.likely for part in parts) == pytest.approx(step.hours.likely)
            assert sum(part.high for part in parts) == pytest.approx(step.hours.high)
        else:
            assert step.hours.high == 0.0
    plan = day_plan(own, result)
    assert sum(bar.end_h - bar.start_h for bar in plan.bars) == pytest.approx(result.hours.likely)
    assert plan.hours_likely >= plan.least_h - 1e-9
    assert {bar.crew for bar in plan.bars} == set(range(1, crews + 1))
    if crews == 1:
        assert plan.hours_likely == pytest.approx(result.hours.likely)
        assert plan.order.startswith("No schedule")
    else:
        assert plan.hours_likely < result.hours.likely


def test_gusts_by_the_hour_push_cuts_back() -> None:
    """Gusts over the limit all morning: nothing off the ground before noon, moving the sheets still goes on."""
    own = job(WHOLE + '\n[[day.forecast]]\nfrom = "07:00"\nto = "12:00"\ngusts = "30 mph"\n')
    plan = day_plan(own, out(own))
    assert min(bar.start_h for bar in plan.bars if bar.step in ("secure", "cut")) >= 12.0
    assert any(bar.what.startswith("lay") and bar.end_h <= 12.0 for bar in plan.bars)
    assert "nothing off the ground then" in plan.wind


def test_gusts_of_later_days_push_cuts_back_too() -> None:
    """One hour of light before noon on the first day; gusts over the limit on the second until ten."""
    light = '\n[day]\nstart = "08:00"\nlight_until = "11:00"\n'
    forecast = '[[day.forecast]]\nday = 2\nfrom = "07:00"\nto = "10:00"\ngusts = "30 mph"\n'
    calm, windy = (day_plan(own, out(own)) for own in (job(WHOLE + light), job(WHOLE + light + forecast)))
    second = [bar for bar in windy.bars if bar.day == 2 and bar.step in ("secure", "cut", "lower")]
    assert min(bar.start_h for bar in calm.bars if bar.day == 2) == 8.0
    assert all(bar.start_h >= 10.0 for bar in second)
    assert windy.windy == ((2, 7.0, 10.0),)
    assert "on day 2 07:00 to 10:00 (30 mph)" in windy.wind
    assert any("No gusts are forecast for day 1" in reason for reason in windy.reasons)
    assert schedule([Work("cut", 1.0, off_ground=True)], 1, {}, Calendar(8.0, 12.0, ((8.0, 12.0), (32.0, 33.5)))) == (
        Run("cut", 33.5, 34.5, 1, 0),
    )


def test_gusts_over_the_limit_all_day_leave_the_ground_work() -> None:
    """Sheets may be laid; nothing is cut before the second day."""
    own = job(WHOLE + '\n[day]\nwind = "30 mph"\n')
    plan = day_plan(own, out(own))
    assert {bar.step for bar in plan.bars if bar.day == 1} <= {"set-up", "move"}
    assert min(bar.day for bar in plan.bars if bar.step == "cut") == 2
    assert "no work off the ground on the first day" in plan.wind


def plan_of(*methods: str) -> CutsResult:
    """A made-up plan that takes S4, S3 ... off by these methods; S1 stays until the end."""
    made = cut()
    (step,) = made.chosen.steps
    steps = tuple(
        replace(step, n=n, piece=f"S{5 - n}", takes=(f"S{5 - n}",), method=method)
        for n, method in enumerate(methods, 1)
    )
    return replace(made, chosen=replace(made.chosen, steps=steps))


def test_tasks_follow_the_plan_and_leave_nothing_behind() -> None:
    """Cuts in the plan's order, the crane with what it lifts, and the stub moved although no step takes it."""
    result = out(job(WHOLE), plan_of("roll off", "crane pick", "roll off"))
    of = {task.id: task for task in result.tasks}
    assert [task.what for task in result.tasks if task.id.startswith("cut ")] == [
        "cut S4", "lift S3", "cut S2", "what is left",
    ]  # fmt: skip
    assert of["cut 2"].after == ("cut 1",)
    assert of["cut 2"].machine == "crane"
    assert set(of["move rest"].after) == {"lay sheets", "cut rest"}
    assert sum(task.hours.likely for task in result.tasks) == pytest.approx(result.hours.likely)
    assert day_plan(job(WHOLE), result).least_h > 0.0


def test_what_is_done_stays_in_the_hours() -> None:
    """A prop set, a cut rolled off and one lifted, then a plan for the rest: nothing gets cheaper by being done."""
    rows = ('what = "prop"\nid = "P1"\n', 'how = "roll off"\n', 'how = "crane pick"\n')
    own = job(WHOLE + "".join(f'\n[[done]]\nat = "{15 - 5 * n} ft"\n{row}' for n, row in enumerate(rows)))
    result, whole = out(own, plan_of("roll off")), out(job(WHOLE), plan_of("roll off"))
    hours, before = ({step.step: step.hours.likely for step in one.steps} for one in (result, whole))
    assert hours["cut"] - before["cut"] == pytest.approx(8 / 60)  # the table's minutes: 8 a cut, 15 a piece let down
    assert hours["lower"] - before["lower"] == pytest.approx(15 / 60)
    assert hours["secure"] - before["secure"] == pytest.approx(25 / 60)  # the prop beside the plan's own
    assert result.crane_hours.likely == pytest.approx(15 / 60)
    assert [task.step for task in result.tasks[1:4]] == ["secure", "cut", "lower"]
    assert sum(task.hours.likely for task in result.tasks) == pytest.approx(result.hours.likely)
    ids = [bar.what for bar in day_plan(own, result).bars]
    assert ids.index("cut S4") > ids.index("cut stem, done")


def test_a_chart_counts_only_where_the_plan_lifts() -> None:
    """A chart that is too weak for every piece: outside when one is lifted, shown and no more when none is."""
    crane = '\n[crane]\nradius = "26 ft"\nchart = "radius_ft,capacity_lb\\n20,900\\n30,700"\n'
    by_hand, lifted = (out(job(WHOLE + crane), plan_of(method)) for method in ("roll off", "crane pick"))
    assert [pick.inside for pick in by_hand.picks] == [False] * 4
    assert not any("hook" in reason for reason in by_hand.outside)
    assert any("S4 on the hook is outside" in reason for reason in lifted.outside)
    assert by_hand.crane_hours == Range.exact(0.0)
    assert lifted.crane_hours.likely == pytest.approx(0.25)  # 15 minutes, the table's likely time


def test_the_crane_waits_while_something_else_is_cut() -> None:
    """Two picks of a quarter of an hour with a cut by hand between them: it is there for all three."""
    own = job(WHOLE)
    result = out(own, plan_of("crane pick", "roll off", "crane pick"))
    between = next(task for task in result.tasks if task.id == "cut 2").hours
    assert result.crane_hours.likely == pytest.approx(0.5 + between.likely)
    assert result.crane_hours.high == pytest.approx(1.0 + between.high)
    plan = day_plan(own, result)
    assert [(bar.machine, bar.step) for bar in plan.waits] == [("crane", "wait")]
    assert plan.waits[0].end_h - plan.waits[0].start_h == pytest.approx(between.likely)
    assert any(f"stands {between.likely:.1f} h between its picks" in reason for reason in plan.reasons)
    in_turn = out(own, plan_of("crane pick", "crane pick", "roll off"))
    assert in_turn.crane_hours.likely == pytest.approx(0.5)
    assert day_plan(own, in_turn).waits == ()
