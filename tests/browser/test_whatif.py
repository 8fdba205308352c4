"""What if on a tablet and a phone: slide a cut, see both sides, keep it; without scripting too."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from playwright.sync_api import expect
from tests.browser.conftest import DESK, PHONE, TABLET
from tests.browser.test_solid import SMALL, accessible

from bolewright.store.revisions import tables


def test_a_cut_is_slid_and_kept(device: Any, keep: Any, pictures: Path) -> None:
    """The slider writes the number; both sides stand beside each other; keeping makes a revision."""
    job, page = keep(SMALL, ""), device(TABLET)
    page.goto(f"/job/{job.key}/cuts")
    page.click("text=What if: move a cut")
    slide = page.locator("#cut-slide")
    before = page.input_value("#cut-at")
    box = slide.bounding_box()
    slide.tap(position={"x": box["width"] * 0.3, "y": box["height"] / 2})
    assert page.input_value("#cut-at") == page.input_value("#cut-slide") != before
    slide.press("ArrowRight")
    page.click("form:has(#cut-at) button")
    page.wait_for_selector("#tried")
    page.screenshot(path=pictures / "whatif-820.png", full_page=True)
    page.click("text=Keep it")
    page.wait_for_url("**/cuts*")
    assert job.latest.number == 2
    assert tables(job.latest)["cut"]


def test_a_piece_left_on_and_dropped_again(device: Any, keep: Any, axe: str, pictures: Path) -> None:
    """On a phone: told, dropped, nothing changed; and by the rules of access."""
    job, page = keep(SMALL, ""), device(PHONE)
    page.goto(f"/job/{job.key}/what-if")
    page.select_option("#leave-piece", "L1")
    page.click("form:has(#leave-piece) button")
    page.wait_for_selector("#tried")
    expect(page.locator("#tried h3")).to_contain_text("L1 never taken")
    page.screenshot(path=pictures / "whatif-390.png", full_page=True)
    accessible(page, axe)
    page.click("text=Drop it")
    page.wait_for_url("**/what-if")
    assert job.latest.number == 1


def test_without_scripting(device: Any, keep: Any) -> None:
    """The number field alone does it."""
    job, page = keep(SMALL, ""), device(DESK, java_script_enabled=False)
    page.goto(f"/job/{job.key}/what-if")
    assert not page.locator("#cut-slide").is_visible()
    page.fill("#prop-at", "12")
    page.click("form:has(#prop-at) button")
    assert "a prop P1 under the stem at 12 ft, snug" in page.inner_text("#tried")
