"""A real Chromium on a running field sheet, as a tablet and as a phone; REQUIRE_BROWSER=1 forbids skipping."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")  # the browser's driver runs an event loop beside the tests

TABLET = {"width": 820, "height": 1180}
PHONE = {"width": 390, "height": 844}
DESK = {"width": 1440, "height": 900}
FLAGS = [
    "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update",
    "--disable-sync",
]  # fmt: skip
FLAT = "--disable-gpu"  # a page without WebGL is painted with half the work
WEBGL = ("--use-angle=swiftshader", "--enable-unsafe-swiftshader")
AXE = "axe-core@4.10.3"


def must_have(what: str, asked: str = "REQUIRE_BROWSER") -> None:
    """Skip without it, fail where this run asks for it."""
    if os.environ.get(asked) == "1":
        pytest.fail(f"{what} is not here, and this run asks for it")
    pytest.skip(f"{what} is not here")


def chromium_place() -> str | None:
    """Where Chromium is, if it is here."""
    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)


@pytest.fixture(scope="session")
def driver() -> Iterator[Any]:
    """What drives the browsers of a test run; there can be but one."""
    if chromium_place() is None:
        must_have("Chromium")
    from playwright.sync_api import expect, sync_playwright

    expect.set_options(timeout=20_000)
    with sync_playwright() as started:
        yield started


@contextmanager
def chromium(driver: Any, *more: str) -> Iterator[Any]:
    """A Chromium with these flags beside the usual ones."""
    started = driver.chromium.launch(executable_path=chromium_place(), args=[*FLAGS, *more])
    yield started
    started.close()


@pytest.fixture(scope="session")
def browser(driver: Any) -> Iterator[Any]:
    """One Chromium for all tests but those of the 3D view."""
    with chromium(driver, FLAT) as started:
        yield started


@pytest.fixture(scope="session")
def pictures(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where screenshots go: BOLEWRIGHT_PICTURES, else a folder of this run."""
    asked = os.environ.get("BOLEWRIGHT_PICTURES")
    folder = Path(asked) if asked else tmp_path_factory.mktemp("pictures")
    folder.mkdir(parents=True, exist_ok=True)
    return folder


@pytest.fixture
def data(settings: Any, tmp_path: Path) -> Path:
    """The data folder of this test."""
    settings.BOLEWRIGHT_DATA = tmp_path
    return tmp_path


@pytest.fixture
def device(browser: Any, live_server: Any, data: Path) -> Iterator[Callable[..., Any]]:
    """Opens a page of the running sheet on a device; errors in the page fail the test."""
    opened, wrong = [], list[str]()

    def open_on(size: dict[str, int] = TABLET, **more: Any) -> Any:
        touch = size is not DESK
        more.setdefault("service_workers", "block")  # pages kept beside the test would only cost time
        context = browser.new_context(viewport=size, has_touch=touch, is_mobile=touch, base_url=live_server.url, **more)
        context.set_default_timeout(20_000)
        context.set_default_navigation_timeout(60_000)  # the first page of a cold server on a busy machine
        page = context.new_page()
        page.on("pageerror", lambda error: wrong.append(str(error)))
        opened.append(context)
        return page

    yield open_on
    for context in opened:
        context.close()
    assert not wrong, wrong


@pytest.fixture
def keep(transactional_db: None, data: Path) -> Callable[..., Any]:
    """Keeps a shipped example, or a job file's text, as a job."""
    from bolewright.job.syntax import tables_of
    from bolewright.reference.examples import examples
    from bolewright.store.revisions import new_job

    def kept(text: str = "", example: str = "garage-oak") -> Any:
        return new_job(
            tables_of(text or examples()[example].read_text(encoding="utf-8")), "", "put in", example=example
        )

    return kept


@pytest.fixture(scope="session")
def axe(request: pytest.FixtureRequest) -> str:
    """The accessibility rules, fetched once through npm and kept in the test cache."""
    cache = request.config.cache
    assert cache is not None
    folder = Path(cache.mkdir("axe"))
    script = folder / "node_modules" / "axe-core" / "axe.min.js"
    npm = shutil.which("npm")
    if not script.exists():
        if npm is None:
            must_have("npm", "REQUIRE_AXE")
        command = [str(npm), "install", "--no-save", "--ignore-scripts", "--no-audit", "--no-fund", "--silent", AXE]
        done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False, timeout=120)
        if done.returncode != 0:
            must_have(f"axe-core ({done.stderr.strip()[-200:]})", "REQUIRE_AXE")
    return script.read_text(encoding="utf-8")
