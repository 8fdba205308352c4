"""Entries on the sheet: saved at once and as typed, answered with the drawing, with and without scripting."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.test import Client

from bolewright.store.models import KeptJob
from bolewright.store.revisions import tables

pytestmark = pytest.mark.django_db
LIVE = {"headers": {"HX-Request": "true"}}


def cell(client: Client, job: KeptJob, base: int, **cells: str) -> Any:
    """Post cells as the page with scripting does; names with / are written with __."""
    posted = {"base": str(base), **{name.replace("__", "/"): value for name, value in cells.items()}}
    return client.post(f"/job/{job.key}/save/measure", posted, **LIVE)


def limb(job: KeptJob, n: int) -> dict[str, Any]:
    """A limb as saved."""
    found: dict[str, Any] = tables(job.latest)["tree"]["limb"][n]
    return found


def test_an_entry_is_saved_and_drawn(client: Client, kept: Any) -> None:
    """The answer has the cell as saved, the next base, the forces and the drawing."""
    job = kept()
    answer = cell(client, job, 1, tree__limb__0__length="12 ft ± 6 in")
    text = answer.content.decode()
    assert limb(job, 0)["length"] == "12 ft ± 6 in"
    assert 'id="base" value="2"' in text
    assert 'value="12 ft ± 6 in"' in text
    assert text.count("<svg") == 1
    assert "On the building" in text


@pytest.mark.parametrize(
    ("name", "typed", "saved"),
    [
        ("tree/limb/0/length", "24 6", "24 ft 6 in"),
        ("tree/limb/0/length", "12", "12 ft"),
        ("tree/limb/0/diameter", "9.5", "9.5 in"),
        ("tree/limb/0/diameter", "8..10", "8..10 in"),
        ("tree/limb/0/angle", "50", "50 deg"),
        ("tree/limb/0/clock", "3.5", 3.5),
        ("tree/limb/0/clock", "half past", "half past"),
        ("tree/limb/0/diameter", "24 cm", "24 cm"),
        ("tree/limb/0/diameter", "nine", "nine"),
        ("tree/limb/0/broken", "yes", True),
        ("tree/hinge/share", "30", "30 %"),
        ("tree/hinge/share", "0.3", "0.3"),
    ],
)
def test_what_is_typed_is_what_is_kept(client: Client, kept: Any, name: str, typed: str, saved: Any) -> None:
    """Units as typed; a plain number takes the unit its cell is headed by; what cannot be read is kept all the same."""
    job = kept()
    client.post(f"/job/{job.key}/save/measure", {"base": "1", name: typed}, **LIVE)
    here: Any = tables(job.latest)
    for part in name.split("/"):
        here = here[int(part) if part.isdigit() else part]
    assert here == saved


def test_metric_cells_take_metric_units(client: Client, kept: Any) -> None:
    """By the switch of the job."""
    job = kept(units="metric")
    cell(client, job, 1, tree__limb__0__length="4.5", tree__limb__0__diameter="24")
    assert (limb(job, 0)["length"], limb(job, 0)["diameter"]) == ("4.5 m", "24 cm")


def test_an_entry_that_cannot_be_read_is_kept_named_and_left_out(client: Client, kept: Any) -> None:
    """Nothing typed is lost, the fault stands at its cell, and the rest is still answered."""
    job = kept()
    text = cell(client, job, 1, tree__limb__2__length="sixteen").content.decode()
    assert limb(job, 2)["length"] == "sixteen"
    assert 'aria-invalid="true"' in text
    assert "Left out until it can be read" in text
    assert "On the building" in text
    again = cell(client, job, 2, tree__limb__2__length="16 ft").content.decode()
    assert "aria-invalid" not in again


def test_a_row_is_begun_with_one_cell_and_finished_cell_by_cell(client: Client, kept: Any) -> None:
    """As limbs are called out; one fresh row is made ready, when the row is begun."""
    job = kept()
    count = len(tables(job.latest)["tree"]["limb"])
    row = f"tree/limb/{count}"
    called = {"id": "L9", "at": "40", "clock": "12", "angle": "40", "length": "8", "diameter": "4"}
    for n, (key, value) in enumerate(called.items(), start=1):
        text = client.post(
            f"/job/{job.key}/save/measure", {"base": str(n), f"{row}/{key}": value}, **LIVE
        ).content.decode()
        assert (f'name="tree/limb/{count + 1}/id"' in text) is (n == 1)
    assert limb(job, count) == {
        "id": "L9",
        "at": "40 ft",
        "clock": 12,
        "angle": "40 deg",
        "length": "8 ft",
        "diameter": "4 in",
    }
    assert "Left out" not in text


def test_twelve_numbers_give_a_first_answer(client: Client, kept: Any) -> None:
    """A title, a species and twelve numbers: what the tree weighs and what carries it."""
    job = kept(
        {"schema": 1, "job": {"title": "Elm Street"}, "tree": {"species": "northern red oak", "attached": "free"}}
    )
    numbers = {
        "tree/stem/0/at": "0", "tree/stem/0/diameter": "20", "tree/stem/0/height": "0",
        "tree/stem/1/at": "40", "tree/stem/1/diameter": "10", "tree/stem/1/height": "11",
        "support/0/at": "0", "support/1/at": "34",
        "building/0/near": "25", "building/0/far": "45", "building/0/left": "15", "building/0/eave": "9",
    }  # fmt: skip
    words = {
        "support/0/id": "butt", "support/0/on": "ground", "support/1/id": "eave", "support/1/on": "roof",
        "building/0/id": "shed", "building/0/right": "15",
    }  # fmt: skip
    text = ""
    for n, (name, value) in enumerate({**numbers, **words}.items(), start=1):
        text = client.post(f"/job/{job.key}/save/measure", {"base": str(n), name: value}, **LIVE).content.decode()
    assert len(numbers) == 12
    assert re.search(r"Tree</dt><dd>[0-9,]+ lb", text)
    assert re.search(r"On the building</dt><dd>[1-9][0-9,]* lb", text)


def test_without_scripting_the_whole_form_is_saved(client: Client, kept: Any) -> None:
    """The page's own inputs sent back with two changes: only these two are new."""
    job = kept()
    page = client.get(f"/job/{job.key}/measure").content.decode()
    form = page[page.index('<form id="sheet"') :]
    posted = dict(re.findall(r'<input id="[^"]*" name="([^"]*)" value="([^"]*)"', form))
    for name, options in re.findall(r'<select id="[^"]*" name="([^"]*)".*?>(.*?)</select>', form, re.S):
        chosen = re.search(r"<option selected>([^<]*)", options)
        posted[name] = chosen[1] if chosen else ""
    before = tables(job.latest)
    posted.update({"tree/limb/0/length": "13 ft", "tree/stem/5/at": "50 ft", "base": "1"})
    count = len(before["tree"]["stem"])
    posted[f"tree/stem/{count}/at"] = "55 ft"
    answer = client.post(f"/job/{job.key}/save/measure", posted)
    assert answer.status_code == 302
    after = tables(job.latest)
    assert after["tree"]["limb"][0]["length"] == "13 ft"
    assert after["tree"]["stem"][count] == {"at": "55 ft"}
    assert after["tree"]["limb"][1:] == before["tree"]["limb"][1:]
    assert after["support"] == before["support"]
    assert after["job"] == before["job"]


def test_a_row_is_taken_away_and_comes_back(client: Client, kept: Any) -> None:
    """By its own button, and by undo."""
    job = kept()
    before = tables(job.latest)["tree"]["limb"]
    client.post(f"/job/{job.key}/save/measure", {"base": "1", "remove": "tree/limb/1"})
    assert tables(job.latest)["tree"]["limb"] == [before[0], *before[2:]]
    client.post(f"/job/{job.key}/undo", {"here": "measure"})
    assert tables(job.latest)["tree"]["limb"] == before


def test_two_tablets(client: Client, kept: Any) -> None:
    """Different cells go together and the second is told; the same cell is kept twice, shown, and chosen."""
    job = kept()
    client.cookies["bolewright-who"] = "Ann"
    cell(client, job, 1, tree__limb__0__length="12 ft")
    client.cookies["bolewright-who"] = "Bob"
    text = cell(client, job, 1, tree__limb__0__clock="4").content.decode()
    assert "somebody else changed meanwhile" in text
    assert 'value="12 ft"' in text  # Bob's page gets Ann's length
    text = cell(client, job, 1, tree__limb__0__length="13 ft").content.decode()
    place = re.search(r'href="(/job/[^"]*/both/\d+)"', text)
    assert place is not None
    assert limb(job, 0)["length"] == "12 ft"
    both = client.get(place[1]).content.decode()
    assert "12 ft" in both
    assert "13 ft" in both
    assert "Bob" in both
    assert "Two people changed the same place" in client.get(f"/job/{job.key}/call").content.decode()
    number = job.latest.number
    client.post(place[1], {"base": str(number - 1), "place-0": "mine"})
    assert limb(job, 0)["length"] == "12 ft"  # the page was older than the job: shown again, nothing done
    client.post(place[1], {"base": str(number), "place-0": "mine"})
    assert limb(job, 0)["length"] == "13 ft"
    assert "Two people changed" not in client.get(f"/job/{job.key}/call").content.decode()


def test_what_a_change_does_stands_beside_what_was_before(client: Client, kept: Any) -> None:
    """A far thicker top: the load on the building now, and before this change."""
    job = kept()
    text = cell(client, job, 1, tree__stem__3__diameter="24 in").content.decode()
    loads = re.findall(r"(?:On the building|Before this change)</dt><dd>(?:[a-z ]+, )?([0-9,]+) lb", text)
    now, before = (int(load.replace(",", "")) for load in loads)
    assert now > 1.15 * before


def test_a_page_whose_rows_are_no_longer_those_of_the_job_is_renewed(client: Client, kept: Any) -> None:
    """Both began a limb: both are kept, and the second page is told to load again before it is typed into."""
    job = kept()
    count = len(tables(job.latest)["tree"]["limb"])
    cell(client, job, 1, **{f"tree__limb__{count}__id": "Ann's"})
    answer = cell(client, job, 1, **{f"tree__limb__{count}__id": "Bob's"})
    assert answer.headers["HX-Trigger"] == "rows-moved"
    assert [row["id"] for row in tables(job.latest)["tree"]["limb"][count:]] == ["Ann's", "Bob's"]


@pytest.mark.parametrize(
    "posted",
    [
        {},
        {"base": "x"},
        {"base": "99999999999999"},
        {"base": "1", "tree/limb/999999/at": "1 ft"},
        {"base": "1", "schema": "2", "no/such/field": "1", "tree/limb/-1/at": "1", "tree/limb/x/at": "1", "/": "1"},
        {"base": "1", "remove": "tree"},
        {"base": "1", "remove": "tree/limb/77"},
        {"base": "1", "tree/limb/0/at": "x" * 100_000},
        {"base": "1", "tree/limb/0/at": "\x00\ud7ff\u202e"},
    ],
)
def test_bad_posts_break_nothing(client: Client, kept: Any, posted: dict[str, str]) -> None:
    """No error page of ours, and the limbs that stood still stand."""
    job = kept()
    before = tables(job.latest)
    answer = client.post(f"/job/{job.key}/save/measure", posted, **LIVE)
    assert answer.status_code in (200, 400, 422)
    after = tables(job.latest)
    assert len(after["tree"]["limb"]) <= len(before["tree"]["limb"]) + 1
    assert after["tree"]["limb"][1:] == before["tree"]["limb"][1 : len(after["tree"]["limb"])]
    assert after["schema"] == 1
    assert client.get(f"/job/{job.key}/measure").status_code == 200


def test_a_stale_form_is_refused_in_words(kept: Any) -> None:
    """Without its token: 403, a plain page, nothing changed."""
    job = kept()
    answer = Client(enforce_csrf_checks=True).post(
        f"/job/{job.key}/save/measure", {"base": "1", "tree/limb/0/at": "1 ft"}
    )
    assert answer.status_code == 403
    assert b"what you typed still stands" in answer.content
    assert job.latest.number == 1
