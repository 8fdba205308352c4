"""The record of hours on the sheet: collected from the jobs kept here, taken into one, jobs left out with a word."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from django.test import Client
from tests.functional.accounts import signed_in
from tests.unit.planning.out_jobs import LEG, WHOLE

from bolewright.job.model import Job
from bolewright.job.read import loads
from bolewright.job.syntax import tables_of
from bolewright.planning.haul.hours import LOWERED
from bolewright.planning.haul.out import out as worked_out_way
from bolewright.planning.haul.price import price
from bolewright.planning.holding.hold import hold
from bolewright.planning.order.cuts import cuts
from bolewright.planning.scene import scene
from bolewright.planning.weigh import weigh
from bolewright.store.answers import keep_answer
from bolewright.store.day import write
from bolewright.store.edits import Edit
from bolewright.store.keys import make_key
from bolewright.store.models import KeptJob, Person, ToDo
from bolewright.store.record import plan_before_work, record_for, take
from bolewright.store.results import Worked, written
from bolewright.store.revisions import save, tables

SMALL = Path(__file__).parent / "data" / "small-stem.toml"
pytestmark = pytest.mark.django_db
OVER = '\n[[worked]]\nstep = "set-up"\nhours = "{}"\n\n[hand_over]\ndone = ["log away"]\n'


@pytest.fixture
def three(kept: Any) -> tuple[KeptJob, KeptJob, KeptJob]:
    """A job to plan, one that took 2 h to set up where 1 h was planned, and one that is not over."""
    plain: KeptJob = kept(tables_of(WHOLE))
    elm: KeptJob = kept(tables_of(WHOLE.replace("Log on the lawn", "Elm & ivy") + OVER.format("2 h")))
    begun = OVER.format("9 h").split("[hand_over]")[0]
    ash: KeptJob = kept(tables_of(WHOLE.replace("Log on the lawn", "Ash") + begun))
    return plain, elm, ash


def factors(job: KeptJob) -> dict[str, float]:
    """What each kind of work is taken by on the page's JSON."""
    return {step.step: step.factor for step in record_for(job, loads(job.latest.text)).steps}


def test_page_shows_what_is_learnt_and_taking_it_in_moves_the_hours(client: Client, three: Any) -> None:
    """2 h on 1 h: factor 2^(1/5), 1.15; the job counts with it once somebody has taken it in, and can go back."""
    plain, _, _ = three
    said = client.get(f"/job/{plain.key}/record").content.decode()
    assert "1 earlier job counts" in said
    assert "Elm &amp; ivy" in said
    assert "1.15" in said
    assert "It is not over" in said
    before = plain.latest.number
    assert client.post(f"/job/{plain.key}/record/take").status_code == 302
    (row,) = tables(plain.latest)["rates"]["actual"]
    assert (row["job"], row["planned"], row["took"]) == ("Elm & ivy", "1 h", "2 h")
    assert plain.latest.what == "took in the hours of 1 earlier job"
    assert "counts with them" in client.get(f"/job/{plain.key}/record").content.decode()
    out = client.get(f"/job/{plain.key}/out").content.decode()
    assert "own record 1.15 times the plan" in out
    price_ = price(loads(plain.latest.text), worked_out_way(loads(plain.latest.text)))
    assert price_ is not None
    assert f"${price_.total[1]:,}" in out  # what the page shows is what the price says, to the cent
    assert "lb/yd³" in out
    assert client.post(f"/job/{plain.key}/undo", {"next": "/"}).status_code in (200, 302)
    assert plain.latest.number == before + 2
    assert "actual" not in tables(plain.latest)["rates"]


def test_a_job_is_left_out_with_a_word_that_is_kept(client: Client, three: Any) -> None:
    """Without a word nothing is left out; with one it is a revision of that job and stands on every page."""
    plain, elm, _ = three
    assert client.post(f"/job/{plain.key}/record/leave-out", {"of": elm.key, "why": " "}).status_code == 422
    assert elm.latest.number == 1
    assert client.post(f"/job/{plain.key}/record/leave-out", {"of": elm.key, "why": "two new hands"}).status_code == 302
    assert tables(elm.latest)["rates"]["left_out"] == "two new hands"
    said = client.get(f"/job/{plain.key}/record").content.decode()
    assert "two new hands" in said
    assert "No earlier jobs count" in said
    assert client.post(f"/job/{plain.key}/record/take").status_code == 422
    client.post(f"/job/{plain.key}/record/leave-out", {"of": elm.key, "again": "1"})
    assert "left_out" not in tables(elm.latest)["rates"]
    assert factors(plain)["set-up"] == pytest.approx(2.0**0.2)


def test_record_of_the_store_counts_each_job_once_and_never_itself(kept: Any, three: Any) -> None:
    """A job taken in twice, examples, and the job itself in another copy teach nothing more."""
    plain, elm, _ = three
    copy = kept(tables_of(elm.latest.text))
    itself = kept(tables_of(WHOLE + OVER.format("9 h")))
    found = record_for(plain, loads(plain.latest.text))
    why = {one.key: one.why for one in found.jobs}
    assert sorted([why[elm.key], why[copy.key]])[0] == ""
    assert "counts once" in why[elm.key] + why[copy.key]
    assert "being planned" in why[itself.key]
    assert found.counted == 1
    oak = kept()
    assert "invented" in {one.key: one.why for one in record_for(plain, loads(plain.latest.text)).jobs}[oak.key]
    assert record_for(elm, loads(elm.latest.text)).counted == 1  # the log: what it took is known now


def test_record_of_the_store_is_worked_out_once(three: Any) -> None:
    """What there was to do is kept for each plan; changed times are set against the same amounts."""
    plain, _, _ = three
    first = record_for(plain, loads(plain.latest.text))
    assert ToDo.objects.count() == 1
    kept = json.loads(ToDo.objects.get().text)
    assert kept["trips"] == 4
    save(plain, plain.latest.number, [Edit(("rates", "set_up"), "2 h")], "Ann", "times")
    again = record_for(plain, loads(plain.latest.text))
    assert ToDo.objects.count() == 1
    assert (first.steps[0].factor, again.steps[0].factor) == (pytest.approx(2.0**0.2), pytest.approx(1.0))
    assert take(plain, plain.latest, again, "Ann").number == plain.latest.number


def worked_out(job: Job) -> str:
    """A whole answer as the worker keeps it."""
    cut = cuts(job)
    return written(Worked(weigh(job), hold(job), cut, scene(job, cut)))


def test_plan_before_work_began_is_the_one_compared(kept: Any, three: Any) -> None:
    """The plan taken before a step was done, not the one worked out from there; cutting is compared then."""
    plain, elm = three[0], kept(tables_of(SMALL.read_text(encoding="utf-8") + LEG + OVER.format("2 h")))
    job = loads(elm.latest.text)
    answer = keep_answer(elm, 1, elm.latest.text, worked_out(job), 1.0)
    write(elm, "plan", "Ann", answer=answer)
    rows = [Edit(("worked", 1, "step"), "cut"), Edit(("worked", 1, "hours"), "3 h"), Edit(("done", 0, "at"), "15 ft")]
    begun = save(elm, 1, rows, "Ann", "went on").revision
    later = keep_answer(elm, begun.number, begun.text, "never read: a step was done before it", 1.0)
    write(elm, "plan", "Ann", answer=later)
    assert plan_before_work(elm)[0] == answer
    (one,) = (one for one in record_for(plain, loads(plain.latest.text)).jobs if one.key == elm.key)
    (cutting,) = (step for step in one.steps if step.step == "cut")
    plan = cuts(job).chosen
    minutes = sum(step.minutes for step in plan.steps if step.action == "cut" and step.method not in LOWERED)
    assert minutes > 0.0
    assert cutting.ratio == pytest.approx(3.0 / (minutes / 60.0))


def test_job_that_cannot_be_read_says_so_and_stops_nothing(client: Client, kept: Any, three: Any) -> None:
    """Another job with a fault is listed; the job itself with one cannot learn until it is mended."""
    plain, elm, _ = three
    save(elm, 1, [Edit(("tree", "density"), "soon")], "Ann", "typed")
    assert "cannot be read" in client.get(f"/job/{plain.key}/record").content.decode()
    save(plain, 1, [Edit(("rates", "set_up"), "soon")], "Ann", "typed")
    for answer in (client.get(f"/job/{plain.key}/record"), client.post(f"/job/{plain.key}/record/take")):
        assert "cannot be read" in answer.content.decode()
    assert plain.latest.number == 2


def test_roles_and_json(client: Client, three: Any, settings: Any) -> None:
    """Whoever may look sees it, whoever may work takes it in; the interface answers as the command does."""
    plain, elm, _ = three
    settings.BOLEWRIGHT_ALONE = False
    viewer = signed_in("viewer")
    assert viewer.get(f"/job/{plain.key}/record").status_code == 200
    assert viewer.post(f"/job/{plain.key}/record/take").status_code == 403
    assert viewer.post(f"/job/{plain.key}/record/leave-out", {"of": elm.key, "why": "x"}).status_code == 403
    crew = signed_in("crew")
    assert crew.post(f"/job/{plain.key}/record/take").status_code == 302
    assert plain.latest.by == "Crew Field"
    _, token = make_key(Person.objects.get(login="viewer"), "program", "Ann")
    place, headers = f"/api/1/jobs/{plain.key}/record", {"Authorization": f"Bearer {token}"}
    answer = Client().get(place, headers=headers).json()
    assert (answer["counted"], answer["taken"]) == (1, True)
    assert answer["steps"][0]["now"] == pytest.approx(2.0**0.2)
