"""What if on a tablet and a phone: drag a cut on the drawing, see both sides, keep it; without scripting too."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect
from tests.browser.conftest import DESK, PHONE, TABLET
from tests.browser.test_solid import SMALL, accessible

from bolewright.job.read import loads


def finger(page: Any, places: list[tuple[float, float]]) -> None:
    """A finger put down, moved and lifted, as the screen reports it."""
    wire = page.context.new_cdp_session(page)
    for kind, place in (("touchStart", places[0]), *(("touchMove", place) for place in places[1:])):
        wire.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": place[0], "y": place[1]}]})
    wire.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def middle(box: Any) -> tuple[float, float]:
    """Of a box."""
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_a_cut_is_dragged_on_the_drawing_and_kept(device: Any, keep: Any, axe: str, pictures: Path) -> None:
    """By finger: the grip follows, both sides are told on release; then by keys and slider; kept as a revision."""
    job, page = keep(SMALL, ""), device(TABLET)
    page.goto(f"/job/{job.key}/cuts")
    page.click("text=What if: move a cut")
    grip = page.locator("[role=slider][data-piece=S3]")
    target = page.locator(".grip-target").first.bounding_box()
    assert target["width"] >= 75.5  # 20 mm
    x, y = middle(grip.bounding_box())
    before = float(grip.get_attribute("aria-valuenow"))
    finger(page, [(x, y), (x - 12, y + 2), (x - 30, y + 4)])
    page.wait_for_selector("#tried")
    after = float(grip.get_attribute("aria-valuenow"))
    expect(page.locator("#tried h3")).to_contain_text("the cut of S3 at")
    expect(page.locator("#tried")).to_contain_text("This cut, if it were the next")
    assert after < before - 0.4
    assert middle(grip.bounding_box())[0] == pytest.approx(x - 30, abs=4)  # drawn where it was let go
    assert float(page.input_value("#cut-at")) == pytest.approx(after, abs=0.01)
    assert float(page.input_value("#cut-slide")) == pytest.approx(after, abs=0.05)
    page.screenshot(path=pictures / "whatif-820.png", full_page=True)
    accessible(page, axe)
    grip.press("ArrowRight")
    grip.press("ArrowRight")
    assert float(grip.get_attribute("aria-valuenow")) == pytest.approx(after + 2 / 12, abs=0.06)  # by inches
    expect(page.locator("#trying")).to_contain_text("Working out")
    expect(page.locator("#trying")).to_be_empty()
    page.locator("#cut-slide").press("ArrowRight")
    assert page.input_value("#cut-at") == page.input_value("#cut-slide")
    page.context.set_offline(True)
    page.click("#cut-form button")
    expect(page.locator("#trying")).to_contain_text("NOT TRIED: a change is worked out by the server")
    page.context.set_offline(False)
    page.click("text=Keep it")
    page.wait_for_url("**/cuts*")
    assert job.latest.number == 2
    kept = [cut.at.likely / 0.3048 for cut in loads(job.latest.text).cut]
    assert kept[-1] == pytest.approx(after + 2 / 12, abs=0.06)


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
