"""What the papers of the tests are made from: the shipped example with its paperwork, invented results beside it."""

from __future__ import annotations

import dataclasses
import datetime
import io
from functools import cache
from pathlib import Path

from briefing_cases import DAY, case, dead_end
from PIL import Image

from bolewright.documents.given import Given, LogRow, PhotoRow, Signature, ViewRow
from bolewright.documents.paper import contents, fingerprint
from bolewright.documents.papers import paper_named
from bolewright.job.read import loads
from bolewright.planning.haul.daywork import day_plan
from bolewright.planning.haul.out import out
from bolewright.planning.haul.price import price

EXAMPLE = Path(__file__).parent.parent.parent / "examples" / "garage-oak.toml"
CHANGE = """
[[change]]
id = "1"
what = "Eye bolt and cable grown into the stem at 23 ft: one more piece goes on the line"
why = "under the bark, found by the saw"
photo = "14"
hours = "1.5 h"
price = "277.50"
tag = "make safe"
effect = "ends an hour and a half later"
"""
BARE = 'schema = 1\n[job]\ntitle = "Oak"\n[tree]\nspecies = "oak"\nattached = "free"\n'
SIGNED = Signature(
    "D. Okafor",
    "Customer",
    "I have read it.",
    "2026-04-11 07:51 UTC",
    "14 Tanager Lane",
    "tablet",
    2,
    "a" * 64,
    "M10 20 L300 150",
)


def thumb() -> bytes:
    """A small JPEG."""
    made = io.BytesIO()
    Image.new("RGB", (80, 60), (120, 90, 40)).save(made, "JPEG")
    return made.getvalue()


def photos() -> tuple[PhotoRow, ...]:
    """Two photographs, number 2 missing, one whose original was altered."""
    return (
        PhotoRow(
            1,
            "IMG_0001.jpg",
            "1" * 64,
            2_000_000,
            "butt",
            "before",
            "2026:04:11 07:40:00",
            by="M. Pruitt",
            facing="NE",
            untouched=True,
            thumb=thumb(),
        ),
        PhotoRow(3, "IMG_0014.jpg", "3" * 64, 1_000, "eye bolt", "during", untouched=False),
    )


@cache
def full() -> Given:
    """Everything a job can have, the authorisation signed as it is."""
    given, paper = unsigned(), paper_named("work-authorisation")
    assert paper is not None
    shown = fingerprint(contents(paper, given))
    return dataclasses.replace(given, signed={paper.name: dataclasses.replace(SIGNED, shown=shown)})


@cache
def unsigned() -> Given:
    """Everything a job can have, but nothing signed."""
    job, found = loads(EXAMPLE.read_text(encoding="utf-8") + CHANGE), case("garage")
    got_out = out(job)
    plan = dataclasses.replace(
        found.cuts.chosen,
        steps=tuple(
            dataclasses.replace(step, method="lower on a line" if step.action == "cut" and step.n < 6 else step.method)
            for step in found.cuts.chosen.steps
        ),
    )
    return Given(
        job=job,
        day=DAY,
        revision="revision 4",
        weigh=found.weigh,
        hold=found.hold,
        cuts=dataclasses.replace(found.cuts, chosen=plan),
        scene=found.scene,
        out=got_out,
        price=price(job, got_out),
        day_plan=day_plan(job, got_out),
        photos=photos(),
        views=(ViewRow("before", "The whole tree", "filled"), ViewRow("after", "The opening", "waived", "dark")),
        log=(LogRow("2026-04-11 09:11 UTC", "ticked", "step 1: cut L1", "M. Pruitt"),),
    )


def bare() -> Given:
    """A job with a title and a tree, and nothing worked out."""
    return Given(job=loads(BARE), units="metric", day=datetime.date(2026, 3, 28))


def without_order() -> Given:
    """Everything but an order of cuts."""
    return dataclasses.replace(full(), cuts=dead_end(case("garage")).cuts)
