"""A paper read and signed on a tablet with a finger, on a phone, and with keyboard alone; accessible throughout."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tests.browser.conftest import PHONE, TABLET

from bolewright.store.models import SignedPaper

JOB = """
schema = 1
[job]
title = "Oak on the shed"
site = "14 Tanager Lane"
[tree]
species = "red oak"
attached = "free"
[company]
name = "Kestrel Tree Care"
[rates]
crew_hour = "185.00"
[terms]
authorised_by = "D. Okafor"
scope = ["take the oak off the shed"]
"""


def faults(page: Any, axe: str) -> list[str]:
    """What axe-core finds serious or critical."""
    page.evaluate(axe)
    found = page.evaluate("axe.run().then(r => r.violations.filter(v => ['serious', 'critical'].includes(v.impact)))")
    return [f"{v['id']}: {v['nodes'][0]['html'][:200]}" for v in found]


def test_read_sign_and_sign_anew(device: Any, keep: Any, pictures: Path, axe: str) -> None:
    """From the papers page to the signed file, drawn by finger; then the rate changes and it is to be signed anew."""
    job, page = keep(JOB, ""), device(TABLET)
    page.goto(f"/job/{job.key}/papers")
    page.screenshot(path=pictures / "papers-820.png", full_page=True)
    assert not faults(page, axe)
    page.click("text=Read and sign work authorisation")
    page.wait_for_selector(".pages img")
    pictures_in = "[...document.querySelectorAll('.pages img')]"
    page.wait_for_function(f"{pictures_in}.every(i => i.complete && i.naturalWidth > 400)")
    assert not faults(page, axe)
    pad = page.locator("#pad")
    pad.scroll_into_view_if_needed()
    box = pad.bounding_box()
    page.mouse.move(box["x"] + 40, box["y"] + 60)
    page.mouse.down()
    for k in range(1, 12):
        page.mouse.move(box["x"] + 40 + 30 * k, box["y"] + (40 if k % 2 else 110))
    page.mouse.up()
    assert page.input_value("#strokes").startswith("M")
    page.check("#sign-read")
    page.screenshot(path=pictures / "sign-820.png", full_page=True)
    page.click("button:has-text('Sign work authorisation')")
    page.wait_for_selector("text=still as it was signed")
    page.screenshot(path=pictures / "signed-820.png", full_page=True)
    assert not faults(page, axe)
    assert SignedPaper.objects.get().strokes.count("L") > 5
    page.goto(f"/job/{job.key}/papers")
    page.locator("summary", has_text="Rates").click()
    with page.expect_response(lambda answer: "/save/papers" in answer.url):
        page.fill("#c-rates-crew-hour", "190.00")
        page.keyboard.press("Tab")
    page.goto(f"/job/{job.key}/papers/sign/work-authorisation")
    assert "$190.00" in page.inner_text(".differs")


def test_with_the_keyboard_alone_and_without_scripting(device: Any, keep: Any, pictures: Path) -> None:
    """The typed name with its tick does what a finger does."""
    job, page = keep(JOB, ""), device(PHONE, java_script_enabled=False)
    page.goto(f"/job/{job.key}/papers/sign/work-authorisation")
    assert page.locator("#pad").is_hidden()
    page.fill("#sign-by", "D. Okafor")
    page.locator("#sign-typed").press("Space")
    page.locator("#sign-read").press("Space")
    page.screenshot(path=pictures / "sign-390.png", full_page=True)
    page.locator("button:has-text('Sign work authorisation')").press("Enter")
    page.wait_for_selector("text=by typing the name")
    assert SignedPaper.objects.get().strokes == ""
