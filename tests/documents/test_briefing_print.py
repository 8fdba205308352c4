"""The paper itself: same bytes every time, no complaint of the typesetter, right sheet, cards whole, words harmless."""

from __future__ import annotations

import dataclasses
import datetime
import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent
NASTY = (
    "#set page(fill: red) *b* _i_ $x^2$ \\ <script>alert(1)</script> 😀 שלום العربية 日本語 "
    '[#import "x"] `raw` @ref // c /* d */ ' + "W" * 120 + ' \u202eexe.gnp\u2066 {{x}} #eval("1") ~ -- "q" \' &amp; %s'
)
ONCE_MORE = """
import hashlib, sys
sys.path.insert(0, {here!r})
from conftest import case
print(hashlib.sha256(case("garage").printed().pdf).hexdigest())
"""


def test_nothing_to_complain_of(printed) -> None:
    """No warning in any briefing, and each passes the checker of PDF/UA-1 (ISO 14289-1)."""
    for name, paper in printed.items():
        assert paper.warnings == (), name
        assert paper.accessible, name


def test_same_bytes_from_two_processes(printed) -> None:
    """A second process, with another hash seed, prints the same file."""
    done = subprocess.run([sys.executable, "-c", ONCE_MORE.format(here=str(HERE))], capture_output=True, text=True,
                          check=True, env={"PYTHONHASHSEED": "7", "PATH": "", "HOME": "/nowhere",
                               "PYTHONPATH": os.environ.get("PYTHONPATH", "")})  # fmt: skip
    assert done.stdout.strip() == hashlib.sha256(printed["garage"].pdf).hexdigest()


def test_another_day_is_another_paper(cases, printed, reader) -> None:
    """The date is that of the argument, and stands on the pages."""
    other = cases["one step"].printed(date=datetime.date(2027, 1, 2))
    assert other.pdf != printed["one step"].pdf
    assert all("2 January 2027" in page for page in reader(other.pdf))


def test_no_date_is_still_the_same_every_time(cases) -> None:
    """Without any date no clock is read: two prints are the same."""
    assert cases["bare"].printed(date=None).pdf == cases["bare"].printed(date=None).pdf


@pytest.mark.skipif(shutil.which("pdfinfo") is None, reason="no pdfinfo here")
@pytest.mark.parametrize(("name", "size"), [("garage", "612 x 792"), ("ridge", "595.276 x 841.89")])
def test_sheet_is_letter_or_a4_and_tagged(printed, tmp_path: Path, name: str, size: str) -> None:
    """US letter 8.5 x 11 in, A4 210 x 297 mm (ISO 216), in points; the date written is the one given."""
    path = tmp_path / "b.pdf"
    path.write_bytes(printed[name].pdf)
    told = subprocess.run(["pdfinfo", str(path)], capture_output=True, text=True, check=True, env={"TZ": "UTC"}).stdout
    facts = dict(line.split(":", 1) for line in told.splitlines() if ":" in line)
    assert size in facts["Page size"]
    assert facts["Tagged"].strip() == "yes"
    assert "Mar 28" in facts["CreationDate"]
    assert "2026" in facts["CreationDate"]


@pytest.mark.parametrize(("name", "count"), [("one step", 1), ("twenty steps", 20)])
def test_one_card_per_page_whatever_their_number(pages, name: str, count: int) -> None:
    """As many pages with stop triggers as steps, in order, one after the other."""
    own = [k for k, page in enumerate(pages[name]) if "STOP IF" in page]
    assert len(own) == count
    assert own == list(range(own[0], own[0] + count))
    for n, k in enumerate(own, 1):
        assert f"the butt lifts in step {n}" in pages[name][k]
        assert f"Step {n} of {count}, about" in pages[name][k]


def test_hostile_words_stay_words(cases, reader) -> None:
    """Markup, scripts, emoji, right-to-left text and very long words in every field print as text, on whole cards."""
    found = cases["garage"]
    facts = found.job.job.model_copy(update={"title": NASTY, "site": NASTY, "owner": NASTY,
                                             "lead": NASTY, "crew": (NASTY, "العربية"), "notes": NASTY * 9,
                                             "hospital": NASTY})  # fmt: skip
    steps = tuple(
        dataclasses.replace(s, stand=NASTY, why=NASTY, watch=(NASTY,), stop=(NASTY, NASTY), recheck=NASTY,
                            stays=dataclasses.replace(s.stays, words=NASTY))
        for s in found.cuts.chosen.steps[:3]
    )  # fmt: skip
    plan = dataclasses.replace(found.cuts.chosen, steps=steps, summary=NASTY, gear=(NASTY,))
    nasty = dataclasses.replace(found, job=found.job.model_copy(update={"job": facts}),
                                scene=dataclasses.replace(found.scene, title=NASTY),
                                cuts=dataclasses.replace(found.cuts, chosen=plan, notes=(NASTY,)))  # fmt: skip
    paper = nasty.printed()
    assert paper.accessible
    assert paper.warnings == ()
    pages = reader(paper.pdf)
    for k in range(1, 4):
        card = next(page for page in pages if f"Step {k} of 3, about" in page)
        assert "#set page(fill: red) *b* _i_ $x^2$ \\ <script>alert(1)</script>" in card
        assert all(mark in card for mark in ("`raw`", "@ref", "/*", "*/", "{{x}}", '#eval("1")', "&amp;", "%s"))
        assert "STOP IF" in card
    assert "\u202e" not in " ".join(pages)


def test_accent_is_kept_for_what_stops_the_work() -> None:
    """Only the box of stop triggers uses the accent in the templates."""
    templates = list((HERE.parent.parent / "src/bolewright/documents").rglob("*.typ"))
    assert len(templates) > 8
    using = {path.name for path in templates for line in path.read_text(encoding="utf-8").splitlines()
             if ("fill: stop" in line or "+ stop" in line)}  # fmt: skip
    assert using == {"cautions.typ"}
