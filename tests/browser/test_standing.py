"""A standing tree in the browser: from a new job to its report on a tablet, and every page on a phone."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from playwright.sync_api import expect
from tests.browser.conftest import PHONE, TABLET

from bolewright.store.models import KeptJob
from bolewright.store.revisions import read_document
from bolewright.web.stages import FAILED, STANDING

EXAMPLES = Path(__file__).resolve().parents[2] / "examples" / "standing"
TOUCH = 75.0  # CSS pixels of 20 mm, less rounding


def test_from_a_new_job_to_the_report(device: Any, data: Path, transactional_db: None, pictures: Path) -> None:
    """Measured, looked at with one tap a thing, drilled, held against a gust, judged, printed."""
    page = device(TABLET)
    page.goto("/new")
    page.fill("#title", "Oak at 4 Mill Lane")
    page.fill("#species", "northern red oak")
    page.select_option("#attached", "standing")
    page.click("text=Open the job")
    job = KeptJob.objects.get()
    page.goto(f"/job/{job.key}/size")
    for name, value in (("standing/height", "70"), ("standing/crown_width", "44"), ("tree/dbh", "30")):
        page.fill(f"[name='{name}']", value)
        page.press(f"[name='{name}']", "Enter")
    expect(page.locator("#revision")).to_have_text("revision 4")
    page.goto(f"/job/{job.key}/seen")
    page.click("#i-roots-root-flare-could-not-see")
    expect(page.locator("#i-roots-root-flare-could-not-see")).to_have_attribute("aria-pressed", "true")
    page.click("#i-stem-conk-seen")
    page.click("#i-stem-conk summary")
    page.fill("#i-stem-conk [name$='/side']", "W")
    page.press("#i-stem-conk [name$='/side']", "Enter")
    expect(page.locator("#revision")).to_have_text("revision 7")
    page.screenshot(path=pictures / "seen-820.png")
    page.goto(f"/job/{job.key}/tests")
    page.click("button:has-text('drilling')")
    for side, depth in (("N", "6"), ("E", "5"), ("S", "4"), ("W", "2.5")):
        page.fill(f"[name='inspection/test/0/shells/{side}']", depth)
        page.press(f"[name='inspection/test/0/shells/{side}']", "Enter")
    page.fill("[name='inspection/test/0/height']", "3")
    page.press("[name='inspection/test/0/height']", "Enter")
    expect(page.locator("#revision")).to_have_text("revision 13")
    page.click("text=Work it out again")
    expect(page.locator("figure.drawing svg")).to_have_count(1)
    page.goto(f"/job/{job.key}/judge")
    expect(page.locator(".computed .answer")).to_be_visible()
    page.select_option("[name='rating/failure']", "possible")
    expect(page.locator("#revision")).to_have_text("revision 14")
    page.goto(f"/job/{job.key}/papers")
    found = page.request.get(page.get_attribute("a:has-text('Inspection report')", "href"))
    assert found.body().startswith(b"%PDF-")
    inspected = read_document(job.latest.text)["inspection"]
    assert inspected["observation"][1] == {"group": "stem", "what": "conk", "state": "seen", "side": "W"}


def test_every_page_on_a_phone(device: Any, keep: Any, axe: str, pictures: Path) -> None:
    """Nothing runs out of its side, targets are 20 mm high, no serious finding of the accessibility rules."""
    text = (EXAMPLES / "weir-poplar.toml").read_text(encoding="utf-8") + "\n[limits]\nsamples = 32\n"
    job, page, wrong = keep(text, ""), device(PHONE), []
    small = f"""els => els.filter(e => e.offsetParent && e.getBoundingClientRect().height < {TOUCH})
        .map(e => e.outerHTML.slice(0, 90))"""
    for name in [*(stage.name for stage in STANDING), FAILED.name]:
        page.goto(f"/job/{job.key}/{name}")
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), name
        found = page.eval_on_selector_all(
            "button, .button, input:not([type=hidden]), select, summary, nav a, .jobs a", small
        )
        assert found == [], (name, found)
        page.evaluate(axe)
        result = page.evaluate("axe.run({exclude: ['figure svg *']}, {resultTypes: ['violations']})")
        wrong += [
            (name, v["id"], v["nodes"][0]["html"][:140], v["nodes"][0].get("failureSummary", "")[:160])
            for v in result["violations"]
            if v["impact"] in ("serious", "critical")
        ]
        page.screenshot(path=pictures / f"standing-{name}-phone.png")
    assert not wrong, "\n".join(map(str, wrong))
