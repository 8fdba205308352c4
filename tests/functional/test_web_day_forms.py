"""What a price and a day are made from can be typed on the sheet: rates, light, wind, chart, gates, lines by hand."""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Iterator
from decimal import Decimal
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from tests.unit.planning.out_jobs import WHOLE

from bolewright.job.model import Job
from bolewright.job.shape import slots
from bolewright.job.syntax import tables_of
from bolewright.job.table import Table
from bolewright.web.fields import all_sections
from bolewright.web.look import draft_of, whole_job
from bolewright.web.plainly import place, plainly

pytestmark = pytest.mark.django_db
DAY_AND_MONEY = (
    "access", "machine", "boards", "load", "haul", "crane", "rigging", "rates", "day", "handling", "truck", "limits",
    "company", "customer", "call", "terms", "lifting", "change", "log", "worked", "billed", "hand_over",
)  # fmt: skip
CHART = "radius_ft,capacity_lb\n10,30000\n20,21000\n30,14000\n40,9000\n"


def fields_of(table: type[Table], path: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Every field of a table and of those inside it."""
    for key, slot in slots(table).items():
        if slot.inside is not None:
            yield from fields_of(slot.inside, (*path, key))
        else:
            yield (*path, key)


@pytest.mark.parametrize("name", DAY_AND_MONEY)
def test_every_field_of_the_way_out_and_of_the_money_has_a_cell(name: str) -> None:
    """Nothing of these tables can be entered in a file alone."""
    inside = slots(Job)[name].inside
    assert inside is not None
    cells = {(*section.path, *field.key.split(".")) for section in all_sections() for field in section.fields}
    assert [field for field in fields_of(inside, (name,)) if field not in cells] == []


def test_typed_without_scripting_it_is_the_job(client: Client, kept: Callable[..., Any]) -> None:
    """Whole forms sent as a browser without scripting sends them; a plain number takes the unit of its cell."""
    job = kept()
    typed = {
        "out": {
            "day/start": "6:30", "day/crews": "2", "day/wind_limit": "20", "day/forecast/0/from": "11:00",
            "day/forecast/0/to": "13:00", "day/forecast/0/gusts": "28", "access/cut_again": "no",
            "access/gate/0/at/forward": "-41", "load/0/tip": "62.50", "load/0/tip_by": "short ton",
            "rates/cut": "6..10..20", "rates/actual/0/step": "cut", "rates/actual/0/planned": "3",
            "rates/actual/0/took": "4.5",
        },
        "papers": {
            "rates/crane_least": "4", "rates/crane_fixed": "350", "rates/extra/0/tag": "protection",
            "rates/extra/0/what": "tarp", "rates/extra/0/rate": "90.00", "worked/0/on": "2026-04-12",
        },
        "cuts": {"crane/radius": "30", "crane/chart": CHART.replace("\n", "\r\n"), "rigging/slings": "2"},
    }  # fmt: skip
    for page, fields in typed.items():
        answer = client.post(f"/job/{job.key}/save/{page}", {"base": str(job.latest.number), **fields})
        assert answer.status_code == 302
        job.refresh_from_db()
    found = whole_job(job.latest.text)
    assert found is not None, draft_of(job.latest.text).faults
    assert (found.day.start, found.day.crews, found.day.wind_limit.text) == ("06:30", 2, "20 mph")
    assert found.day.forecast[0].gusts.text == "28 mph"
    assert found.access is not None
    assert found.access.cut_again is False
    assert found.access.gate[0].at is not None
    assert found.access.gate[0].at.forward.text == "-41 ft"
    assert (found.load[0].tip, found.load[0].tip_by) == (Decimal("62.50"), "short ton")
    assert (found.rates.cut.text, found.rates.actual[0].took.text) == ("6..10..20 min", "4.5 h")
    assert (found.rates.extra[0].rate, found.rates.crane_fixed) == (Decimal("90.00"), Decimal(350))
    assert found.crane is not None
    assert found.crane.chart == CHART.strip()
    assert "The chart lists 4 radii" in client.get(f"/job/{job.key}/cuts").content.decode()


def test_a_chart_with_a_hole_is_kept_and_the_line_told(client: Client, kept: Callable[..., Any]) -> None:
    """As a file; the job goes on without a crane until it is mended, and no answer is lost over it."""
    job = kept()
    holed = CHART.replace("30,14000", "30,")
    file = SimpleUploadedFile("chart.csv", holed.encode())
    answer = client.post(f"/job/{job.key}/cuts/load-chart", {"file": file}, follow=True).content.decode()
    assert "Line 4 of the load chart has no capacity_lb" in answer
    assert "30," in answer
    assert draft_of(job.latest.text).job is not None
    assert "Crane and its load chart: Radius of the picks" in answer
    for file, status in ((SimpleUploadedFile("x", b"\x00\x01"), 422), (SimpleUploadedFile("x", b"1" * 10_001), 413)):
        assert client.post(f"/job/{job.key}/cuts/load-chart", {"file": file}).status_code == status
    assert client.post(f"/job/{job.key}/cuts/load-chart").status_code == 422


def test_half_a_table_takes_no_answer_away(client: Client, kept: Callable[..., Any]) -> None:
    """The first cell of boards, crane or company is not the last that is needed."""
    job = kept({**_tables(kept()), "boards": {"length": "8 ft"}, "company": {"phone": "1"}, "crane": {"hook": "1 lb"}})
    draft = draft_of(job.latest.text)
    assert draft.job is not None
    assert set(draft.left_out) == {"boards", "company", "crane"}
    page = client.get(f"/job/{job.key}/out").content.decode()
    assert "<strong>Boards on the truck: Thickness</strong>" in page


@pytest.mark.parametrize(
    ("old", "new", "typed", "words"),
    [
        ('length = "100 ft"', 'length = "100 ft"\nslope = "90 deg"', "90 deg", "more than 60 deg"),
        ("count = 20", "count = 0", "count = 0", "whole number from 1"),
        ('payload = "310 kg"', 'payload = "0 kg"', "0 kg", "must be more than zero"),
        ('"185.00"', '"-185.00"', "-185.00", "A rate cannot be negative"),
        ("[access]", '[[access.gate]]\nid = "gate"\nwidth = "8 in"\n[access]', "8 in", "nobody gets through it"),
    ],
)
def test_what_cannot_be_is_told_on_the_page_and_kept(
    client: Client, kept: Callable[..., Any], old: str, new: str, typed: str, words: str
) -> None:
    """One sentence on the page; what was typed stays in the job."""
    assert old in WHOLE
    job = kept(tables_of(WHOLE.replace(old, new)))
    answer = client.get(f"/job/{job.key}/out")
    assert answer.status_code == 200
    assert words in html.unescape(answer.content.decode())
    assert "[[" not in answer.content.decode()
    assert typed in job.latest.text


def _tables(job: Any) -> dict[str, Any]:
    from bolewright.store.revisions import tables

    return tables(job.latest)


def test_the_sheet_names_forms_and_no_tables(client: Client, kept: Callable[..., Any]) -> None:
    """Reasons on the pages of a job with nothing in it; the file's words stay with the file."""
    job = kept({"schema": 1, "job": {"title": "Bare"}, "tree": {"species": "red oak", "attached": "free", "stem": [
        {"at": "0 ft", "diameter": "20 in"}, {"at": "20 ft", "diameter": "18 in"}]}})  # fmt: skip
    for name in ("papers", "out", "cuts", "holding"):
        text = re.sub(r"<(script|style).*?</\1>", "", client.get(f"/job/{job.key}/{name}").content.decode(), flags=re.S)
        assert not re.search(r"\[\[?[a-z_.]+\]", re.sub(r"<[^>]+>", " ", text)), name
    papers = client.get(f"/job/{job.key}/papers").content.decode()
    assert "“Hours worked” on the page Papers" in papers
    assert "“Crew, an hour” in “Rates” on the page Papers" in papers


@pytest.mark.parametrize(
    ("file", "sheet"),
    [
        ("Enter who sends it: name in [company].", "Enter who sends it: “Name” in “The company” on the page Papers."),
        ('Missing: write width = "46 in" (clear width).', 'Missing: enter it, such as "46 in" (clear width).'),
        ("1st rates.extra: This is missing: write rate = \"...\" (for one).", "This is missing: enter it (for one)."),
        ("Write true or false, without quotes.", "Choose yes or no."),
        ("What stands in [nowhere] stays.", "What stands in [nowhere] stays."),
    ],
)  # fmt: skip
def test_in_the_words_of_the_sheet(file: str, sheet: str) -> None:
    """A sentence made for a file, said beside a cell."""
    assert plainly(file) == sheet


def test_a_place_is_a_form_a_row_and_a_cell() -> None:
    """And the form for one table in two pages is the one with that cell."""
    assert place('tree.limb["L3"].angle') == "Limbs, L3: Angle"
    assert place("rates.extra[0].tag") == "Other lines of the price, 1: Part of the price"
    assert place("rates.crew_hour") == "Rates: Crew, an hour"
    assert place("rates.cut") == "Times of the crew: One cut"
    assert place("schema") == "schema"
