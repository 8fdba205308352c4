"""Without signal: the server killed, the browser closed and opened again, and everything arrives once and in order."""

from __future__ import annotations

import io
import json
import os
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import expect
from tests.browser.conftest import FLAGS, FLAT, PHONE, TABLET, chromium_place
from tests.browser.served import Served, served
from tests.browser.test_day import tapped


@pytest.fixture
def sheet(tmp_path: Path) -> Iterator[Served]:
    """A field sheet of its own process."""
    with served(tmp_path / "data") as found:
        yield found


@pytest.fixture
def tablet(browser: Any, tmp_path: Path) -> Iterator[Callable[[], Any]]:
    """Opens the same browser profile again and again, as one tablet does; errors in a page fail the test."""
    opened, wrong = [], list[str]()

    def start() -> Any:
        context = browser.browser_type.launch_persistent_context(
            str(tmp_path / "profile"),
            executable_path=chromium_place(),
            args=[*FLAGS, FLAT],
            viewport=TABLET,
            has_touch=True,
            is_mobile=True,
        )
        context.set_default_timeout(20_000)
        context.set_default_navigation_timeout(60_000)  # the first page of a cold server on a busy machine
        opened.append(context)
        page = context.pages[0]
        page.on("pageerror", lambda error: wrong.append(str(error)))
        return page

    yield start
    for context in opened:
        context.close()
    assert not wrong, wrong


def settled(page: Any) -> None:
    """The pages of the job are kept."""
    page.wait_for_selector("html[data-ready]", state="attached", timeout=60_000)  # forty pages in a row


def can_be_installed(page: Any) -> None:
    """The browser itself finds nothing that keeps the sheet from being installed, nor a fault in its manifest."""
    wire = page.context.new_cdp_session(page)
    assert wire.send("Page.getInstallabilityErrors")["installabilityErrors"] == []
    told = wire.send("Page.getAppManifest")
    assert told["url"].endswith("/manifest.webmanifest")
    assert told["errors"] == []
    icons = json.loads(told["data"])["icons"]
    for icon in icons:
        found = Image.open(io.BytesIO(page.request.get(f"{told['url'].rsplit('/', 1)[0]}{icon['src']}").body()))
        assert f"{found.width}x{found.height}" == icon["sizes"]
    assert {icon["purpose"] for icon in icons} == {"any", "maskable"}


def drawn_without_signal(page: Any, photograph: str, pictures: Path) -> None:
    """A plain form comes back with what was typed; the page to draw on opens from what is kept, its taps are kept."""
    page.goto(photograph)
    page.fill("#note-shows", "the far side")
    page.click("form:has(#note-shows) button")
    assert page.input_value("input[name=shows]") == "the far side"
    expect(page.locator("main")).to_contain_text("This needs signal")
    page.goto(f"{photograph}/marks")
    picture = page.evaluate("fetch(document.getElementById('at').src).then(r => r.headers.get('content-type'))")
    assert picture == "image/jpeg"
    page.click(".last button[name=draw]")
    expect(page.locator("#say-tap.fault")).to_contain_text("Tap the place")
    tapped(page, (0.2, 0.2), (0.6, 0.6))
    page.fill("#words", "torn here")
    page.click(".last button[name=draw]")
    expect(page.locator("#drawn-here li")).to_contain_text("arrow: torn here, kept on this tablet")
    expect(page.locator("#kept-marks path")).to_have_count(1)
    expect(page.locator("#signal")).to_contain_text("15 entries")
    page.screenshot(path=pictures / "offline-marks.png")


def picture(place: Path, colour: str = "peru") -> Path:
    """A photograph."""
    Image.new("RGB", (900, 700), colour).save(place, "JPEG")
    return place


@pytest.mark.skipif(os.name == "nt", reason="killed differently there")
def test_a_day_without_signal(sheet: Served, tablet: Callable[[], Any], tmp_path: Path, pictures: Path) -> None:
    """Server killed; ticks, an observation, measurements, a photograph; browser closed; all of it arrives once."""
    key = sheet.ready_job()
    sheet.start()
    page = tablet()
    page.goto(f"{sheet.address}/job/{key}/work")
    settled(page)
    can_be_installed(page)
    sheet.kill()

    page.goto(f"{sheet.address}/job/{key}/work")
    expect(page.locator("#signal")).to_contain_text("No signal")
    page.click("button.done")
    expect(page.locator(".card .of")).to_contain_text("Step 2 of")
    page.set_input_files("#tick-photo", picture(tmp_path / "cut.jpg"))
    page.click("button.done")
    expect(page.locator(".card .of")).to_contain_text("Step 3 of")
    expect(page.locator("#signal")).to_contain_text("3 entries kept on this tablet")
    page.fill("#about", "eave")
    page.fill("#said-seen", "creaks")
    page.click("text=Write down >> nth=-1")
    expect(page.locator("ol.log .kept").first).to_contain_text("creaks")
    page.screenshot(path=pictures / "offline-work.png")

    page.goto(f"{sheet.address}/job/{key}/measure")
    page.fill("[name='tree/limb/0/length']", "11")
    page.press("[name='tree/limb/0/length']", "Enter")
    for name, value in (
        ("id", "L3"),
        ("at", "20"),
        ("clock", "9"),
        ("angle", "40"),
        ("length", "5"),
        ("diameter", "3"),
    ):
        page.fill(f"[name='tree/limb/2/{name}']", value)
        page.press(f"[name='tree/limb/2/{name}']", "Enter")
    page.fill("[name='tree/limb/0/length']", "11 6")
    page.press("[name='tree/limb/0/length']", "Enter")
    page.fill("[name='tree/limb/3/id']", "L4")
    page.press("[name='tree/limb/3/id']", "Enter")
    expect(page.locator("#signal")).to_contain_text("13 entries kept on this tablet")
    page.screenshot(path=pictures / "offline-measure.png")
    page.goto(f"{sheet.address}/job/{key}/photos")
    page.set_input_files("#view-butt input[type=file]", picture(tmp_path / "butt.jpg", "tan"))
    page.click("#view-butt button:has-text('Send')")
    expect(page.locator("#view-butt .kept img")).to_be_visible()
    expect(page.locator("#signal")).to_contain_text("14 entries")
    page.screenshot(path=pictures / "offline-photos.png")
    drawn_without_signal(page, f"{sheet.address}/job/{key}/photos/1", pictures)
    page.goto(f"{sheet.address}/job/{key}/what-if")
    expect(page.locator(".needs-signal")).to_contain_text("nothing can be tried or kept")
    page.click("#cut-form button")
    expect(page.locator("#trying")).to_contain_text("NOT TRIED")
    assert page.goto(f"{sheet.address}/job/{key}/what-if?what=prop&at=12").status == 503
    expect(page.locator("button.stop")).to_be_visible()  # also where a page cannot be had
    page.goto(f"{sheet.address}/job/{key}/solid")
    expect(page.locator(".moment:not([hidden]) .forces")).to_contain_text("carries")
    page.context.close()

    page = tablet()  # the browser was closed: everything is still there
    page.goto(f"{sheet.address}/job/{key}/measure")
    expect(page.locator("#signal")).to_contain_text("15 entries kept on this tablet")
    assert page.input_value("[name='tree/limb/2/length']") == "5"
    assert page.input_value("[name='tree/limb/0/length']") == "11 6"
    sheet.start()
    expect(page.locator("#signal")).to_contain_text("Sent: 15 entries", timeout=40_000)
    expect(page.locator("[name='tree/limb/2/length']")).to_have_value("5 ft")
    expect(page.locator("[name='tree/limb/0/length']")).to_have_value("11 ft 6 in")
    page.screenshot(path=pictures / "offline-sent.png")

    log = sheet.rows(
        "select kind, step, said, made_at is not null from store_logentry where kind != 'plan' order by id"
    )
    assert [row[:2] for row in log] == [("ticked", 1), ("ticked", 2), ("observed", None)]
    assert all(row[3] for row in log)
    assert sheet.rows("select view, note from store_photo order by id")[2][0] == "butt"
    assert sheet.rows("select count(*) from store_photo") == [(3,)]
    mark = sheet.rows(
        "select kind, words, round(x1, 2), round(y1, 2), round(x2, 2), drawn_at is not null from store_mark"
    )
    assert mark == [("arrow", "torn here", 0.2, 0.2, 0.6, 1)]
    assert sheet.rows("select count(*), count(distinct key) from store_takenentry") == [(15, 15)]
    assert sheet.rows("select count(*) from store_revision where aside") == [(0,)]
    expect(page.locator("[name='tree/limb/3/id']")).to_have_value("L4")
    assert page.locator("[name^='tree/limb/'][name$='/id']").count() == 5  # four limbs and one fresh row


def test_a_stop_without_signal_stands_at_once_and_is_sent_first(device: Any, keep: Any, pictures: Path) -> None:
    """The network cut: an observation, then a stop. The tablet shows it at once and on every page; it arrives first."""
    job, page = keep(), device()
    page.goto(f"/job/{job.key}/work")
    page.wait_for_selector("#said-seen")
    page.context.set_offline(True)
    page.fill("#said-seen", "creaks")
    page.click("section .stack button:has-text('Write down')")
    expect(page.locator("#signal")).to_contain_text("1 entry kept on this tablet")
    page.click("button.stop")
    expect(page.locator(".stop-cover .stop-word")).to_be_visible()
    page.screenshot(path=pictures / "offline-stop.png")
    page.click(".stop-cover [data-look]")
    expect(page.locator("#stopped-band")).to_contain_text("WORK IS STOPPED")
    page.context.set_offline(False)
    expect(page.locator("#signal")).to_contain_text("Sent: 2 entries")
    assert list(job.log.order_by("pk").values_list("kind", flat=True)) == ["stopped", "observed"]
    assert job.entries.count() == 2


def test_the_blank_sheet_is_one_leaf(device: Any, keep: Any) -> None:
    """Printed by the browser on either paper, the blank measuring sheet has two sides."""
    job, page = keep(), device()
    page.goto(f"/job/{job.key}/papers/sheet-blank")
    for paper in ("Letter", "A4"):
        printed = page.pdf(format=paper, prefer_css_page_size=False)
        assert len(re.findall(rb"/Type\s*/Page\b(?!s)", printed)) == 2, paper


def test_first_page_is_small_on_the_wire(device: Any, keep: Any) -> None:
    """Everything the first page loads, as transferred, and what is kept for a day without signal: under 300 kB."""
    keep()
    page = device(PHONE)
    wire = page.context.new_cdp_session(page)
    sizes = list[float]()
    wire.on("Network.loadingFinished", lambda event: sizes.append(event["encodedDataLength"]))
    wire.send("Network.enable")
    page.goto("/")
    page.wait_for_load_state("networkidle")
    assert 20_000 < sum(sizes) < 150_000
    worker = page.request.get("/worker.js").text()  # it fetches what it keeps once more
    shell = re.findall(r"'(/[^']+)'", re.findall(r"const SHELL = \[(.*?)\];", worker)[0])
    assert len(shell) > 10
    assert sum(sizes) + len(worker) + sum(len(page.request.get(place).body()) for place in shell) < 300_000
