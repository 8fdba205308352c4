"""Measuring with a thumb: saved at once, drawn at once, undone, lost line, two tablets, no scripting."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect
from tests.browser.conftest import DESK, PHONE, TABLET

from bolewright.store.revisions import tables

LENGTH = "[name='tree/limb/2/length']"


def limb(job: Any, n: int = 2) -> dict[str, Any]:
    """A limb as saved."""
    found: dict[str, Any] = tables(job.latest)["tree"]["limb"][n]
    return found


@pytest.mark.parametrize("size", [TABLET, PHONE], ids=["tablet", "phone"])
def test_a_number_called_out_is_saved_and_drawn(device: Any, keep: Any, size: Any, pictures: Path) -> None:
    """Type, Enter: saved with its unit, drawn, and the cursor is in the next cell; undo brings it back."""
    job, page = keep(), device(size)
    page.goto(f"/job/{job.key}/measure")
    before = page.inner_html("#live figure")
    page.fill(LENGTH, "18 6")
    page.press(LENGTH, "Enter")
    expect(page.locator(LENGTH)).to_have_value("18 ft 6 in")
    assert limb(job)["length"] == "18 ft 6 in"
    assert page.inner_html("#live figure") != before
    assert page.evaluate("document.activeElement.name") == "tree/limb/2/diameter"
    assert "Saved" in page.inner_text("#said")
    page.locator(LENGTH).scroll_into_view_if_needed()
    page.screenshot(path=pictures / f"measure-{size['width']}.png")
    page.click("#undo")
    page.wait_for_load_state()
    assert page.input_value(LENGTH) == "16 ft"
    assert limb(job)["length"] == "16 ft"


def test_a_limb_is_called_out_cell_by_cell(device: Any, keep: Any) -> None:
    """Without waiting for the server: every cell arrives in one new row, and one fresh row follows."""
    job, page = keep(), device()
    count = len(tables(job.latest)["tree"]["limb"])
    page.goto(f"/job/{job.key}/measure")
    row = f"tree/limb/{count}"
    for key, value in (
        ("id", "L8"),
        ("at", "30"),
        ("clock", "12"),
        ("angle", "45"),
        ("length", "6"),
        ("diameter", "3"),
    ):
        page.fill(f"[name='{row}/{key}']", value)
        page.press(f"[name='{row}/{key}']", "Enter")
    page.wait_for_selector(f"[name='tree/limb/{count + 1}/id']")
    expect(page.locator(".htmx-request")).to_have_count(0)
    expect(page.locator(f"[name='{row}/diameter']")).to_have_value("3 in")
    expected = {"id": "L8", "at": "30 ft", "clock": 12, "angle": "45 deg", "length": "6 ft", "diameter": "3 in"}
    assert limb(job, count) == expected
    assert len(tables(job.latest)["tree"]["limb"]) == count + 1
    assert page.locator("[name^='tree/limb/'][name$='/id']").count() == count + 2


def test_what_cannot_be_read_is_told_at_its_cell(device: Any, keep: Any, pictures: Path) -> None:
    """The words stand under the cell and stay typed."""
    job, page = keep(), device(PHONE)
    page.goto(f"/job/{job.key}/measure")
    page.fill(LENGTH, "sixteen")
    page.press(LENGTH, "Enter")
    page.wait_for_selector(".cell.faulty")
    assert "cannot be read as a length" in page.inner_text(".cell.faulty")
    assert page.input_value(LENGTH) == "sixteen"
    page.locator(".cell.faulty").scroll_into_view_if_needed()
    page.screenshot(path=pictures / "faulty-390.png")


def test_a_lost_line_loses_nothing(device: Any, keep: Any, pictures: Path) -> None:
    """Cut the network for real: it says so, keeps what was typed, and sends it once when the line is back."""
    job, page = keep(), device()
    page.goto(f"/job/{job.key}/measure")
    page.context.set_offline(True)
    page.fill(LENGTH, "17 ft")
    page.press(LENGTH, "Enter")
    page.wait_for_selector(".cell.unsent")
    expect(page.locator("#said")).to_contain_text("kept on this tablet")
    expect(page.locator("#signal")).to_contain_text("No signal: 1 entry kept on this tablet")
    page.screenshot(path=pictures / "lost-line.png")
    assert limb(job)["length"] == "16 ft"
    page.context.set_offline(False)
    expect(page.locator("#signal")).to_contain_text("Sent: 1 entry kept without signal")
    page.wait_for_selector(".cell.unsent", state="detached")
    assert limb(job)["length"] == "17 ft"
    assert job.revisions.count() == 2


def test_a_full_tablet_says_so_and_what_was_typed_stands(device: Any, keep: Any, pictures: Path) -> None:
    """The storage is used up for real: cell and form say so and keep what was typed; the cell is sent in the end."""
    job, page = keep(), device()
    page.goto(f"/job/{job.key}/measure")
    wire, here = page.context.new_cdp_session(page), page.evaluate("location.origin")
    wire.send("Storage.overrideQuotaForOrigin", {"origin": here, "quotaSize": 1})
    page.context.set_offline(True)
    page.fill(LENGTH, "17 ft")
    page.press(LENGTH, "Enter")
    expect(page.locator("#said")).to_contain_text("NOT KEPT: the storage of this tablet is full")
    expect(page.locator("#signal")).to_contain_text("This tablet can keep no more")
    expect(page.locator(LENGTH)).to_have_value("17 ft")
    page.screenshot(path=pictures / "full-820.png")
    page.context.set_offline(False)
    expect(page.locator("#base")).to_have_value("2")  # past the storage, which is still full
    expect(page.locator(".cell.unsent")).to_have_count(0)
    assert limb(job)["length"] == "17 ft"
    page.goto(f"/job/{job.key}/work")
    page.wait_for_selector("#said-seen")
    page.context.set_offline(True)
    page.fill("#said-seen", "creaks at the eave")
    page.click("section .stack button:has-text('Write down')")
    expect(page.locator("#told")).to_contain_text("NOT KEPT: the storage of this tablet is full")
    assert page.input_value("#said-seen") == "creaks at the eave"
    page.context.set_offline(False)
    page.click("section .stack button:has-text('Write down')")
    expect(page.locator("ol.log")).to_contain_text("creaks at the eave")
    assert job.log.get(kind="observed").said.endswith("creaks at the eave")


def test_two_tablets_see_both_versions(device: Any, keep: Any, pictures: Path) -> None:
    """Other cells go together; for the same cell the second is told at once, sees both, and chooses."""
    job, ann, bob = keep(), device(), device(PHONE)
    for page in (ann, bob):
        page.goto(f"/job/{job.key}/measure")
    ann.fill(LENGTH, "17 ft")
    ann.press(LENGTH, "Enter")
    expect(ann.locator("#base")).to_have_value("2")
    bob.fill("[name='tree/limb/2/angle']", "55")
    bob.press("[name='tree/limb/2/angle']", "Enter")
    expect(bob.locator(LENGTH)).to_have_value("17 ft")
    assert "somebody else changed meanwhile" in bob.inner_text("#said")
    ann.fill(LENGTH, "17 ft 6 in")
    ann.press(LENGTH, "Enter")
    expect(ann.locator("#base")).to_have_value("4")
    bob.fill(LENGTH, "15 ft")
    bob.press(LENGTH, "Enter")
    bob.wait_for_selector("#said a")
    bob.click("#said a")
    bob.wait_for_selector(".both")
    assert "17 ft 6 in" in bob.inner_text(".both")
    bob.screenshot(path=pictures / "both-390.png")
    bob.check("input[value=mine]")
    bob.click("main button")
    bob.wait_for_url("**/measure")
    assert limb(job) | {"length": "15 ft", "angle": "55 deg"} == limb(job)


def test_without_scripting(device: Any, keep: Any) -> None:
    """The same page with scripting off: one button saves what was typed."""
    job, page = keep(), device(DESK, java_script_enabled=False)
    page.goto(f"/job/{job.key}/measure")
    page.fill(LENGTH, "15 6")
    page.select_option("[name='tree/limb/2/foliage']", "bare")
    page.click("#sheet noscript button, #sheet p button")
    page.wait_for_load_state()
    assert limb(job)["length"] == "15 ft 6 in"
    assert limb(job)["foliage"] == "bare"
    assert job.revisions.count() == 2


TWELVE = (
    ("tree/stem/0", {"at": "0", "diameter": "30", "height": "5"}),
    ("tree/stem/1", {"at": "45", "diameter": "14", "height": "13"}),
    ("tree/limb/0", {"id": "L1", "at": "24", "clock": "3", "angle": "50", "length": "14", "diameter": "7"}),
    ("support/0", {"id": "eave", "at": "36", "on": "roof"}),
)


def call_out(page: Any, rows: Any) -> None:
    """Type what is called out, cell by cell, each sent by Enter or by choosing."""
    for row, cells in rows:
        for key, value in cells.items():
            cell = page.locator(f"[name='{row}/{key}']")
            if cell.evaluate("e => e.tagName") == "SELECT":
                cell.select_option(value)
            else:
                cell.fill(value)
                cell.press("Enter")


def numbers_in(page: Any) -> int:
    """How many cells that take a number or an amount are filled in."""
    return sum(
        page.eval_on_selector_all(".cell.number input, .cell.amount input", "e => e.map(i => Number(i.value !== ''))")
    )


def test_a_first_answer_from_twelve_numbers_on_a_slow_phone(
    device: Any, data: Path, transactional_db: None, pictures: Path
) -> None:
    """Processor throttled four times: from no job to weight and what holds it up, in at most twelve numbers; and six
    times: an entry is still answered in a few seconds."""
    page = device(PHONE)
    processor = page.context.new_cdp_session(page)
    processor.send("Emulation.setCPUThrottlingRate", {"rate": 4})
    page.goto("/new")
    page.fill("#title", "12 Elm Lane")
    page.fill("#species", "white oak")
    page.select_option("#attached", "hinge")  # snapped, and still joined to its stump
    page.click("text=Open the job")
    page.wait_for_url("**/call")
    numbers = numbers_in(page)
    page.click("nav >> text=Measure")
    page.wait_for_selector("#live")
    call_out(page, TWELVE)
    expect(page.locator("#live .forces")).to_contain_text("eave", timeout=30_000)
    expect(page.locator(".htmx-request")).to_have_count(0)
    numbers += numbers_in(page)
    assert 10 < numbers <= 12  # the others are names and choices
    live = page.inner_text("#live")
    assert "No answer" not in live
    assert "Left out" not in live
    assert re.search(r"Tree\s+[\d,]+ lb \([\d,]+ to [\d,]+\)", live), live
    page.screenshot(path=pictures / "first-answer-390.png")
    processor.send("Emulation.setCPUThrottlingRate", {"rate": 6})
    before = int(page.input_value("#base"))
    call_out(page, [("tree/limb/0", {"length": "15"})])
    expect(page.locator("#base")).to_have_value(str(before + 1), timeout=8_000)
    page.click("text=Next: what holds it")
    page.wait_for_url("**/holding")
    answer = page.inner_text("main .answer")
    assert re.search(r"Tree\s+[\d,]+ lb \([\d,]+ to [\d,]+\)\s+On the building\s+[\d,]+ lb", answer), answer
    supports = page.inner_text("main table >> nth=0")
    assert re.search(r"eave\s+roof\s+[\d,]+ lb \([\d,]+ to [\d,]+\)\s+[\d,]+ lb\s+carries", supports), supports
    assert "hinge" in supports
    assert "L1" in page.inner_text("main")
    assert page.locator("main .needed-list").count() == 0
    page.screenshot(path=pictures / "first-holding-390.png", full_page=True)
