"""A whole day on a tablet and a phone: from the jobs to ticked steps, and the stop that is one tap from everywhere."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import expect
from tests.browser.conftest import DESK, PHONE, TABLET

from bolewright.store.marks import Wanted, draw
from bolewright.store.views import missing_before_cutting, view_states, waive
from bolewright.web.stages import STAGES

SMALL = (Path(__file__).resolve().parents[1] / "functional" / "data" / "small-stem.toml").read_text(encoding="utf-8")
TOUCH = 75.0  # CSS pixels of 20 mm, less rounding


def drawn_by_taps(page: Any, job: Any, axe: str, pictures: Path) -> None:
    """Start and end tapped on the picture, a third tap moves the nearer one; the pages pass the accessibility rules.
    The whole picture stands above the stop when the page opens, on tablet and phone."""
    for size in (PHONE, TABLET):
        page.set_viewport_size(size)
        page.goto(f"/job/{job.key}/photos/1/marks")
        page.wait_for_load_state("networkidle")
        box, stop = (page.locator(what).bounding_box() for what in ("#at", ".stopbar"))
        assert box["y"] + box["height"] <= stop["y"], (size, box, stop)
    for place in ((0.2, 0.2), (0.6, 0.6), (0.25, 0.2)):
        tapped(page, place)
        expect(page.locator("#crosses > path:last-of-type")).to_be_visible()
    page.fill("#words", "torn here")
    page.screenshot(path=pictures / "draw-820.png", full_page=True)
    found = faults(page, axe)
    page.click(".marking button[name=draw]")
    expect(page.locator(".fills li")).to_contain_text("arrow: torn here")
    mark = job.photos.get().marks.get()
    places = (mark.x1, mark.y1, mark.x2, mark.y2)
    assert all(abs(a - b) < 0.01 for a, b in zip(places, (0.25, 0.2, 0.6, 0.6), strict=True)), places
    length_keeps_its_scale(page, job.photos.get(), pictures)
    page.goto(f"/job/{job.key}/photos/1")
    assert not found + faults(page, axe)
    page.goto(f"/job/{job.key}/photos")


def length_keeps_its_scale(page: Any, photo: Any, pictures: Path) -> None:
    """Scale and length drawn without signal while somebody else draws another scale: all marks stand, each once, and
    the length is read by the scale it was drawn after."""
    page.context.set_offline(True)
    for kind, measure, start, end in (
        ("scale", "80 cm", (0.1, 0.8), (0.9, 0.8)),
        ("length", "", (0.1, 0.5), (0.5, 0.5)),
    ):
        page.check(f"[name=kind][value={kind}]")
        if measure:
            page.fill("#measure", measure)
        tapped(page, start, end)
        page.click(".marking button[name=draw]")
        expect(page.locator("#drawn-here")).to_contain_text(f"{kind}")
    expect(page.locator("#by-scale")).to_contain_text("80 cm, kept on this tablet")
    page.screenshot(path=pictures / "draw-offline-820.png")
    other = draw(photo, Wanted("scale", (0.1, 0.1), (0.9, 0.1), measure="9 m"), (900, 700), "Bo")
    page.context.set_offline(False)
    expect(page.locator("#signal")).to_contain_text("Sent: 2 entries")
    length, scale = photo.marks.get(kind="length"), photo.marks.filter(kind="scale").last()
    assert other.pk < scale.pk == length.of_id
    assert photo.marks.count() == 4
    assert length.drawn_at < other.made_at < length.made_at


def tapped(page: Any, *places: tuple[float, float]) -> None:
    """Taps on the picture, at shares of its width and height."""
    for across, down in places:
        page.evaluate("document.getElementById('at').scrollIntoView()")
        box = page.locator("#at").bounding_box()
        page.touchscreen.tap(box["x"] + across * box["width"], box["y"] + down * box["height"])


def faults(page: Any, axe: str) -> list[Any]:
    """What the accessibility rules call serious or critical."""
    page.evaluate(axe)
    found = page.evaluate("axe.run({exclude: ['figure svg *']}, {resultTypes: ['violations']})")
    return [
        (v["id"], v["nodes"][0]["html"][:140], v["nodes"][0].get("failureSummary", "")[:160])
        for v in found["violations"]
        if v["impact"] in ("serious", "critical")
    ]


def test_from_a_new_job_to_the_last_tick(device: Any, keep: Any, axe: str, pictures: Path, tmp_path: Path) -> None:
    """Photographs, one drawn on, waivers, the plan worked out and taken, ticks, a stop from another page, going on."""
    job, page = keep(SMALL, ""), device(TABLET)
    page.goto(f"/job/{job.key}/photos")
    Image.new("RGB", (900, 700), "peru").save(tmp_path / "butt.jpg")
    page.set_input_files("#view-butt input[type=file]", tmp_path / "butt.jpg")
    page.click("#view-butt button:has-text('Send')")
    page.wait_for_selector("#view-butt.filled img")
    page.screenshot(path=pictures / "photos-820.png")
    drawn_by_taps(page, job, axe, pictures)
    place = page.locator("#view-lines")
    place.locator("summary").click()
    place.locator("[name=reason]").fill("cannot be reached")
    place.locator("[name=by]").fill("Ann")
    place.locator("button:has-text('Do without')").click()
    page.wait_for_selector("#view-lines.waived")
    for view in missing_before_cutting(job):
        waive(job, view.id, "cannot be reached", "Ann")
    page.goto(f"/job/{job.key}/cuts")
    page.click("text=Work out an order")
    page.wait_for_selector("text=Work by this plan", timeout=60_000)
    page.screenshot(path=pictures / "cuts-820.png", full_page=True)
    page.click("text=Work by this plan")
    page.wait_for_selector(".card")
    page.screenshot(path=pictures / "work-820.png")
    for state in view_states(job):
        if state.state == "missing" and state.view.id != "after-S3":
            waive(job, state.view.id, "cannot be reached", "Ann")
    steps = 0
    while page.locator("button.done").count():
        steps += 1
        page.click("button.done")
        expect(page.locator("ol.log strong", has_text="ticked")).to_have_count(steps)
        page.wait_for_load_state()
        if steps == 1:
            assert "Not ready: 1 photograph missing" in page.inner_text(".card .fault")
            page.set_viewport_size(PHONE)
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
            page.screenshot(path=pictures / "waits-phone.png", full_page=True)
            page.set_viewport_size(TABLET)
            page.set_input_files("#wanted input[type=file]", tmp_path / "butt.jpg")
            page.click("#wanted button:has-text('Send')")
            expect(page.locator("#wanted")).to_have_count(0)
            page.wait_for_load_state()
            page.goto(f"/job/{job.key}/papers")
            page.click("button.stop")
            page.wait_for_url("**/stopped")
            page.wait_for_selector(".stop-word")
            page.screenshot(path=pictures / "stopped-820.png")
            page.goto(f"/job/{job.key}/work")
            assert page.locator("button.done").count() == 0
            page.goto(f"/job/{job.key}/stopped")
            page.click("text=Work goes on")
            page.wait_for_url("**/work")
            page.wait_for_selector(".card")
    assert "steps are ticked" in page.inner_text("main")
    assert job.log.filter(kind="ticked").count() == steps >= 3


def test_every_page_fits_and_every_target_is_a_thumb_wide(device: Any, keep: Any, pictures: Path) -> None:
    """Nothing runs out of a phone's side; buttons, inputs and links that lead on are 20 mm high."""
    job, page = keep(), device(PHONE)
    small = f"""els => els.filter(e => e.offsetParent && e.getBoundingClientRect().height < {TOUCH})
        .map(e => e.outerHTML.slice(0, 90))"""
    for name in ["", *(f"job/{job.key}/{stage.name}" for stage in STAGES)]:
        page.goto(f"/{name}")
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), name
        found = page.eval_on_selector_all(
            "button, .button, input:not([type=hidden]), select, summary, nav a, .jobs a", small
        )
        assert found == [], (name, found)
        page.screenshot(path=pictures / f"phone-{name.rsplit('/', 1)[-1] or 'jobs'}.png")


@pytest.mark.parametrize(("size", "night"), [(PHONE, False), (DESK, True)], ids=["phone by day", "desk by night"])
def test_no_serious_finding_of_the_accessibility_rules(
    device: Any, keep: Any, axe: str, night: bool, size: Any, pictures: Path, live_server: Any
) -> None:
    """axe-core on every page, day and night sheet: nothing serious or critical."""
    job, page = keep(), device(size)
    keep()  # a second one, so that the record of hours has something to list
    if night:
        page.context.add_cookies([{"name": "bolewright-night", "value": "1", "url": live_server.url}])
    found = []
    of_the_job = [*(stage.name for stage in STAGES), "history", "record"]
    everywhere = ["", "new", *(f"job/{job.key}/{name}" for name in of_the_job)]
    names = [f"job/{job.key}/{name}" for name in ("measure", "holding", "work")] if night else everywhere
    for name in names:
        page.goto(f"/{name}")
        found += [(name, *fault) for fault in faults(page, axe)]
    page.goto(f"/job/{job.key}/measure")
    page.screenshot(path=pictures / f"{'night' if night else 'day'}-{size['width']}.png")
    assert not found, "\n".join(map(str, found))
