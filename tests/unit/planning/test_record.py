"""The company's own record: what counts, each job once, by present times, and the one formula it goes into."""

from __future__ import annotations

from datetime import date

import pytest

from bolewright.job.model import Job
from bolewright.planning.haul.learning import learnt
from bolewright.planning.haul.out import out
from bolewright.planning.haul.record import (
    MOST_JOBS,
    NO_HOURS,
    NOT_OVER,
    Earlier,
    amounts,
    earlier_job,
    record,
    with_record,
)

from .out_jobs import WHOLE, job

OVER = '\n[hand_over]\ndone = ["log away"]\n'


def worked(**hours: float) -> str:
    """Rows of hours worked."""
    return "".join(f'\n[[worked]]\nstep = "{step.replace("_", "-")}"\nhours = "{h} h"\n' for step, h in hours.items())


def past(
    title: str = "Elm on the lawn", day: date | None = date(2026, 2, 3), more: str = OVER, **hours: float
) -> Earlier:
    """A job that is over, as others learn from it; counted by the piece."""
    done = job(WHOLE + worked(**(hours or {"set_up": 2.0})) + more, ("Log on the lawn", title))
    done = done.model_copy(update={"job": done.job.model_copy(update={"date": day})})
    return seen(done)


def seen(done: Job) -> Earlier:
    """That job as others learn from it, by the times of the plain one."""
    return earlier_job(done, amounts(done, None), False, job(WHOLE).rates, "")


def test_hours_planned_are_those_worked_out_by_hand() -> None:
    """Four trips of 5 min with 200 ft each at 0.9 m/s, fifteen sheets laid and taken up at 1 min: 0.909 h."""
    (moved,) = (step for step in past(move=1.5).steps if step.step == "move")
    by_hand = 4 * 5 / 60 + 4 * (2 * 100 * 0.3048 / 0.9) / 3600 + 2 * 15 / 60
    assert moved.planned_h.likely == pytest.approx(by_hand, rel=1e-9)
    assert moved.ratio == pytest.approx(1.5 / by_hand)


def test_what_is_learnt_is_the_one_formula() -> None:
    """Set-up is 1 h: 2 h and 1.5 h taken give (2 x 1.5)^(1/6); the plan then counts with it, and says so."""
    found = record(job(WHOLE), [past("Elm", set_up=2.0), past("Ash", set_up=1.5)])
    (setting_up,) = (step for step in found.steps if step.step == "set-up")
    assert setting_up.factor == pytest.approx(3.0 ** (1 / 6))
    assert (setting_up.jobs, setting_up.weight, setting_up.now) == (2, pytest.approx(2 / 6), 1.0)
    assert setting_up.ratio == pytest.approx(3.0**0.5)
    assert setting_up.learnt_h is not None
    assert setting_up.learnt_h.likely == pytest.approx(3.0 ** (1 / 6))
    taken = with_record(job(WHOLE), found)
    assert learnt(taken.rates.actual, "set-up") == pytest.approx(setting_up.factor)
    before, after = (next(s for s in out(one).steps if s.step == "set-up").hours for one in (job(WHOLE), taken))
    assert after.likely == pytest.approx(before.likely * setting_up.factor)
    assert record(taken, [past("Elm", set_up=2.0), past("Ash", set_up=1.5)]).taken
    assert not found.taken


def test_each_job_counts_once_and_never_itself() -> None:
    """The same title, site and day is one job however often it is met; the job planned does not learn from itself."""
    found = record(job(WHOLE), [past(), past(), past("LOG ON THE LAWN", day=None)])
    assert [one.counts for one in found.jobs] == [True, False, False]
    assert "counts once" in found.jobs[1].why
    assert "being planned" in found.jobs[2].why
    assert found.counted == 1


def test_rows_of_one_job_are_added_up() -> None:
    """Two days of one job are one job: 1 + 3 h on a plan of 1 + 1 h is twice, once."""
    row = '\n[[rates.actual]]\nstep = "cut"\nplanned = "1 h"\ntook = "{} h"\njob = "Elm"\non = "2026-02-03"\n'
    one = job(WHOLE + row.format(1) + row.format(3))
    assert learnt(one.rates.actual, "cut") == pytest.approx(2.0**0.2)
    apart = job(WHOLE + row.format(1) + row.format(3).replace("02-03", "02-04"))
    assert learnt(apart.rates.actual, "cut") == pytest.approx(3.0 ** (1 / 6))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (OVER, NO_HOURS),
        (worked(set_up=2.0), NOT_OVER),
        (worked(load=0.0) + OVER, "Nothing that was planned"),
        (worked(cut=3.0) + OVER, "Nothing that was planned"),  # without an order of cuts there is no plan for it
    ],
)
def test_what_does_not_count_says_why(text: str, words: str) -> None:
    assert words in seen(job(WHOLE + text)).why


def test_a_job_is_left_out_with_a_word() -> None:
    """The word stands beside it; an invoice's number ends a job as well as a hand-over."""
    billed = WHOLE + worked(set_up=2.0) + '\n[terms]\ninvoice = "2026-031"\n'
    assert seen(job(billed)).counts
    kept = seen(job(billed, ("[rates]", '[rates]\nleft_out = "two new hands that day"')))
    assert kept.why == "Left out: two new hands that day"


def test_work_not_done_is_pointed_out() -> None:
    assert "leave it out" in past(more=OVER + 'not_done = ["the stump"]\n').notes[0]


def test_present_times_are_held_against_old_jobs() -> None:
    """Set-up now counted as 2 h: a job that took 2 h teaches nothing any more."""
    now = job(WHOLE, ('crew_hour = "185.00"', 'crew_hour = "185.00"\nset_up = "2 h"'))
    done = job(WHOLE + worked(set_up=2.0) + OVER, ("Log on the lawn", "Elm"))
    found = record(now, [earlier_job(done, amounts(done, None), False, now.rates, "")])
    assert next(step for step in found.steps if step.step == "set-up").factor == pytest.approx(1.0)


def test_typed_rows_stay_and_the_newest_jobs_count() -> None:
    typed = job(WHOLE + '\n[[rates.actual]]\nstep = "cut"\nplanned = "1 h"\ntook = "2 h"\n')
    many = [Earlier(f"job {n}", "", None, "", "", past().steps) for n in range(MOST_JOBS + 2)]
    found = record(typed, many)
    assert (found.stays, found.counted) == ((0,), MOST_JOBS)
    assert "newest" in found.jobs[-1].why
    taken = with_record(typed, found)
    assert len(taken.rates.actual) == 1 + len(found.rows)
    assert record(taken, many).taken


def test_rows_of_jobs_not_looked_at_stay() -> None:
    """What came from another folder stays; what a job says now takes the place of what it said before."""
    old, new = record(job(WHOLE), [past("Elm", set_up=2.0), past("Ash", set_up=2.0)]), past("Ash", set_up=1.5)
    taken = with_record(job(WHOLE), old)
    again = record(taken, [new])
    rows = with_record(taken, again).rates.actual
    assert sorted((str(row.job), str(row.took)) for row in rows) == [("Ash", "1.5 h"), ("Elm", "2 h")]


def test_done_steps_and_readings_of_an_earlier_job_play_no_part() -> None:
    """What was to do is taken as before work began."""
    whole = job(WHOLE)
    begun = job(WHOLE + '\n[[done]]\nwhat = "cut"\nat = "15 ft"\n')
    assert amounts(begun, None) == amounts(whole, None)
