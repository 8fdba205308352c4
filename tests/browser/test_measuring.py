"""Measuring with a thumb: saved at once, drawn at once, undone, lost line, two tablets, no scripting."""

from __future__ import annotations

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


def test_on_a_slow_phone(device: Any, keep: Any) -> None:
    """Processor throttled six times: the page stands and an entry is answered in a few seconds."""
    job, page = keep(), device(PHONE)
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 6})
    page.goto(f"/job/{job.key}/measure")
    page.fill(LENGTH, "17 ft")
    page.press(LENGTH, "Enter")
    expect(page.locator("#base")).to_have_value("2", timeout=8_000)
    assert limb(job)["length"] == "17 ft"
