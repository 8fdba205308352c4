"""The 3D view in a real browser: it renders, a tapped piece is named, steps change it, words stand without it."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import expect
from tests.browser.conftest import DESK, PHONE, TABLET, WEBGL, chromium, must_have

from bolewright.job.read import loads
from bolewright.planning import cuts, hold, scene, weigh
from bolewright.planning.holding.model import model_of
from bolewright.reference.examples import examples
from bolewright.store.answers import keep_answer
from bolewright.store.results import Worked, written
from bolewright.web.look import held
from bolewright.web.pages.solid import BUNDLE

SMALL = (Path(__file__).resolve().parents[1] / "functional" / "data" / "small-stem.toml").read_text(encoding="utf-8")
Colour = tuple[int, int, int]


@pytest.fixture(scope="module")
def browser(driver: Any) -> Iterator[Any]:
    """One that draws in three dimensions, in software."""
    with chromium(driver, *WEBGL) as started:
        yield started


@pytest.fixture
def bundle() -> None:
    """The script that npm and the build hook make."""
    if not BUNDLE.exists():
        must_have("the 3D bundle")


def quick_oak() -> str:
    """The first example with fewer samples."""
    text = examples()["garage-oak"].read_text(encoding="utf-8")
    assert "\n[limits]\n" in text
    return text.replace("\n[limits]\n", "\n[limits]\nsamples = 48\n")


def with_plan(job: Any) -> None:
    """Keep the plan of a small job, as the worker would."""
    text = job.latest.text
    read = loads(text)
    model = model_of(read)
    found = cuts(read, None, model)
    worked = Worked(weigh(read), hold(read, model), found, scene(read, found, model))
    keep_answer(job, job.latest.number, text, written(worked), 1.0)


def opened(page: Any, address: str) -> Any:
    """The page once its first picture stands."""
    page.goto(address)
    page.wait_for_selector("canvas[data-ready]", timeout=40_000)
    return page.locator(".stage canvas")


def colours(canvas: Any) -> dict[Colour, int]:
    """How often each colour, in steps of 16, stands in the picture of the canvas."""
    picture = Image.open(io.BytesIO(canvas.screenshot())).convert("RGB")
    count: dict[Colour, int] = {}
    for r, g, b in picture.get_flattened_data():
        key = (r // 16, g // 16, b // 16)
        count[key] = count.get(key, 0) + 1
    return count


def accessible(page: Any, axe: str) -> None:
    """The rules every page keeps."""
    page.evaluate(axe)
    found = page.evaluate("axe.run({exclude: ['figure svg *']}, {resultTypes: ['violations']})")["violations"]
    bad = [(v["id"], v["nodes"][0]["html"][:160]) for v in found if v["impact"] in ("serious", "critical")]
    assert not bad, bad
    small = "els => els.filter(e => e.offsetParent && e.getBoundingClientRect().height < 75).map(e => e.outerHTML)"
    assert page.eval_on_selector_all("main button, main .button, main summary", small) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def is_wood(colour: Colour) -> bool:
    """Clearly more red than blue, as no paper, roof or ink is."""
    return colour[0] - colour[2] >= 3


def test_a_tapped_piece_says_what_it_is(device: Any, keep: Any, bundle: None, axe: str, pictures: Path) -> None:
    """The canvas holds wood, paper and ink; a tap where a piece is seen gives its mass, role and bind. Nothing serious
    by axe-core, targets as tall as a thumb, nothing out of the side."""
    job, page = keep(quick_oak(), ""), device(PHONE)
    canvas = opened(page, f"/job/{job.key}/solid")
    seen = colours(canvas)
    whole = sum(seen.values())
    assert 0.01 * whole < sum(n for c, n in seen.items() if is_wood(c)) < 0.7 * whole
    assert sum(n for c, n in seen.items() if min(c) >= 14) > 0.05 * whole, "paper"
    assert sum(n for c, n in seen.items() if max(c) <= 4) > 0.002 * whole, "ink"
    place = page.evaluate("document.querySelector('.stage canvas').placeOf('S4')")
    canvas.tap(position={"x": place["x"], "y": place["y"]})
    panel = page.locator(".picked")
    expect(panel.locator("h3:visible")).to_have_text("S4")
    said = panel.inner_text()
    assert "Bottom bind" in said
    assert " lb (" in said
    hold = held(job.latest.text).hold
    assert hold is not None
    assert next(p.role for p in hold.pieces if p.id == "S4") in said
    assert page.locator("button[data-piece='S4']").get_attribute("aria-pressed") == "true"
    page.evaluate("document.querySelector('.stage').scrollIntoView()")
    page.screenshot(path=pictures / "solid-390.png")
    page.screenshot(path=pictures / "solid-390-whole.png", full_page=True)
    accessible(page, axe)


def test_steps_take_pieces_away(device: Any, keep: Any, bundle: None, axe: str, pictures: Path) -> None:
    """The big buttons go through the plan: less wood each time, the words with it, and no further than the end."""
    job, page = keep(SMALL, ""), device(TABLET)
    with_plan(job)
    canvas = opened(page, f"/job/{job.key}/solid")
    count = page.locator("section.moment").count() - 1
    assert count >= 3
    first = sum(n for c, n in colours(canvas).items() if is_wood(c))
    for n in range(1, count + 1):
        page.click("[data-step='1']")
        expect(page.locator("section.moment:visible h2")).to_contain_text(f"After step {n}")
        page.locator(".stage").screenshot(path=pictures / f"solid-step-{n}.png")
    page.click("[data-step='1']", force=True)
    expect(page.locator("section.moment:visible h2")).to_contain_text(f"After step {count}")
    last = sum(n for c, n in colours(canvas).items() if is_wood(c))
    assert last < 0.5 * first
    page.click("[data-step='-1']")
    expect(page.locator("section.moment:visible h2")).to_contain_text(f"After step {count - 1}")
    page.screenshot(path=pictures / "solid-820-steps.png")
    accessible(page, axe)


def test_turned_by_keyboard_and_by_finger(device: Any, keep: Any, bundle: None, pictures: Path) -> None:
    """Arrow keys turn it, Home brings it back, a drag by touch turns it and is no tap, a button picks a piece."""
    job, page = keep(quick_oak(), ""), device(TABLET)
    canvas = opened(page, f"/job/{job.key}/solid")
    canvas.focus()
    before = canvas.screenshot()
    for key in ("ArrowLeft", "ArrowUp", "+"):
        page.keyboard.press(key)
    assert after_a_frame(page, canvas) != before
    page.screenshot(path=pictures / "solid-turned.png")
    page.keyboard.press("Home")
    assert after_a_frame(page, canvas) == before
    box = canvas.bounding_box()
    touch = page.context.new_cdp_session(page)
    for kind, far in (("touchStart", 0), ("touchMove", 40), ("touchMove", 120), ("touchMove", 200), ("touchEnd", None)):
        points = [] if far is None else [{"x": box["x"] + 300 + far, "y": box["y"] + 200}]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    assert after_a_frame(page, canvas) != before
    assert page.locator(".nothing-picked").is_visible()
    page.locator("button[data-piece='L5']").press("Enter")
    expect(page.locator(".picked h3:visible")).to_have_text("L5")


def after_a_frame(page: Any, canvas: Any) -> bytes:
    """The picture of the canvas once what was asked is drawn."""
    page.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
    picture: bytes = canvas.screenshot()
    return picture


def test_without_scripting_the_words_and_flat_drawings_stand(device: Any, keep: Any, pictures: Path) -> None:
    """Steps are links, each with its flat drawing and its forces."""
    job, page = keep(SMALL, ""), device(DESK, java_script_enabled=False)
    with_plan(job)
    page.goto(f"/job/{job.key}/solid")
    assert page.locator("figure svg").count() == 1
    assert not page.locator("canvas").is_visible()
    page.click("text=Next step")
    assert "After step 1" in page.inner_text("section.moment:visible h2")
    assert "Step 1 of" in page.inner_html("figure svg")
    page.screenshot(path=pictures / "solid-flat.png")
