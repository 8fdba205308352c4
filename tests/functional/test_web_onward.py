"""Going on from here: ticks and readings into the job, and the rest of the plan worked out again from them."""

from __future__ import annotations

import re
import time
from typing import Any

import pytest
from django.test import Client
from tests.functional.test_web_papers import sign
from tests.functional.test_web_work import job, waive_all, work_out  # noqa: F401

from bolewright.job.read import loads
from bolewright.store.edits import Edit
from bolewright.store.models import Answer, KeptJob
from bolewright.store.results import fingerprint, read
from bolewright.store.revisions import save

pytestmark = pytest.mark.django_db


def observe(client: Client, kept: KeptJob, kind: str, about: str, said: str) -> None:
    client.post(f"/job/{kept.key}/work/observe", {"kind": kind, "about": about, "said": said})


def newest(client: Client, kept: KeptJob) -> Answer:
    """The answer to the document as saved last, once it is there."""
    for _ in range(600):
        if "HX-Refresh" in client.get(f"/job/{kept.key}/cuts/progress").headers:
            break
        time.sleep(0.2)
    return Answer.objects.get(job=kept, document=fingerprint(kept.latest.text))


PAID = [
    Edit(("company",), {"name": "Kestrel Tree Care"}),
    Edit(("access",), {"leg": [{"surface": "gravel", "length": "20 m"}]}),
    Edit(("rates",), {"crew_hour": "180.00", "ceiling": "1.00"}),
]


def test_the_plan_from_here(client: Client, job: KeptJob) -> None:  # noqa: F811
    """One step ticked, its piece weighed, a gauge read: the new revision says so, the new order begins behind it, and
    what was read stands beside what was foreseen. A remark without a number stays a remark and says why. The price
    signed before stands beside that of the new plan, with what moved it."""
    save(job, job.latest.number, PAID, "", "rates")
    first = read(work_out(client, job).text)
    waive_all(client, job)
    client.post(f"/job/{job.key}/cuts/choose", {"plan": first.cuts.chosen.title})
    assert sign(client, job).status_code == 302
    assert "The price of the plan has moved" not in client.get(f"/job/{job.key}/work").content.decode()
    steps = first.cuts.chosen.steps
    answer = client.post(f"/job/{job.key}/work/onward")
    assert answer.status_code == 409
    assert b"Nothing to go on from" in answer.content
    support = next(s for s in first.hold.supports if s.state == "carries")
    carried = support.force_N.likely
    observe(client, job, "gauge", support.id, f"{1.02 * carried:.0f} N ± 5 %")
    client.post(f"/job/{job.key}/work/tick", {"step": str(steps[0].n)})
    piece = next(p for p in first.weigh.pieces if p.id == steps[0].takes[0])
    if len(steps[0].takes) == 1:
        observe(client, job, "weighed", piece.id, f"{1.03 * piece.mass_kg.likely:.1f} kg ± 4 %")
    observe(client, job, "gauge", support.id, "about a ton")
    page = client.get(f"/job/{job.key}/work").content.decode()
    assert "kept as a remark: write the number with its unit" in page
    assert page.count("<strong>counts</strong>") == 1 + (len(steps[0].takes) == 1)
    assert client.post(f"/job/{job.key}/work/onward").status_code == 302
    job.refresh_from_db()
    known = loads(job.latest.text)
    assert len(known.done) == 1
    assert known.done[0].off == ("tip side" if steps[0].piece in steps[0].takes else "butt side")
    assert next((r.on, r.after) for r in known.reading) == (support.id, 0)
    again = read(newest(client, job).text)
    assert again.hold.gone == tuple(sorted(steps[0].takes, key=[p.id for p in first.weigh.pieces].index))
    learnt = again.hold.learnt[0]
    assert learnt.foreseen.likely == pytest.approx(carried, rel=0.05)
    assert learnt.now.high - learnt.now.low <= learnt.foreseen.high - learnt.foreseen.low
    assert not set(steps[0].takes) & {name for s in again.cuts.chosen.steps for name in s.takes}
    shown = client.get(f"/job/{job.key}/cuts").content.decode()
    assert "What was read, beside what was foreseen" in shown
    assert "The rest of the plan, before and now" in shown
    client.post(f"/job/{job.key}/cuts/choose", {"plan": again.cuts.chosen.title})
    page = client.get(f"/job/{job.key}/work").content.decode()
    assert f"Step {again.cuts.chosen.steps[0].n} of" in page
    assert "The price of the plan has moved" in page
    assert "work authorisation signed" in page
    assert "The plan was worked out anew after 1 step and" in page
    assert re.search(r"<li>crew, [a-z]+: [0-9.]+ h where [0-9.]+ was agreed \(\$[0-9.]+ (less|more)\)", page)
    assert "more than the $1.00 not to be exceeded" in page
    assert sign(client, job, "change-order").status_code == 302
    assert "The price of the plan has moved" not in client.get(f"/job/{job.key}/work").content.decode()


@pytest.mark.parametrize(
    ("kind", "on", "said", "row"),
    [
        ("feel", "eave", "Snug", {"on": "eave", "feel": "snug"}),
        ("gauge", "eave", "1,200 lb", {"on": "eave", "force": "1,200 lb"}),
        ("rose", "eave", "3/8 in", {"on": "eave", "settled": "3/8 in", "rose": True}),
        ("weighed", "S4", "310 lb", {"on": "S4", "mass": "310 lb"}),
        ("weighed", "eave", "310 lb", "say where, one of S4"),
        ("gauge", "eave", "310", "write the number with its unit"),
        ("feel", "eave", "a bit tight", "loose, snug or hard"),
        ("other", "", "wasps in the gutter", "kept as a remark"),
    ],
)
def test_what_counts(kind: str, on: str, said: str, row: Any) -> None:
    """A row of readings, or a sentence that says why it is a remark."""
    from bolewright.web.onward import reading_of

    found = reading_of(kind, on, said, ("eave",), ("S4",))
    assert found == row if isinstance(row, dict) else row in found
