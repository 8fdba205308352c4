"""Briefings of invented results, printed once for all tests, and the text read back from the PDF."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from briefing_cases import JOBS, Case, bare, case, dead_end, with_steps

from bolewright.documents.press import Printed

__all__ = ["case"]


@pytest.fixture(scope="session")
def cases() -> dict[str, Case]:
    """The invented jobs, and the ones made from them."""
    found = {name: case(name) for name in JOBS}
    made = {
        "no plan": dead_end(found["garage"]),
        "bare": bare(found["ridge"]),
        "one step": with_steps(found["ridge"], 1),
        "twenty steps": with_steps(found["dense"], 20),
    }
    return {**found, **made}


@pytest.fixture(scope="session")
def printed(cases: dict[str, Case]) -> dict[str, Printed]:
    """All of them printed; the ridge on A4."""
    return {name: found.printed("metric" if name == "ridge" else "us") for name, found in cases.items()}


@pytest.fixture(scope="session")
def pages(printed: dict[str, Printed], tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[str]]:
    """The text of every page, white space made single blanks."""
    folder = tmp_path_factory.mktemp("pdf")
    return {name: read_pages(paper.pdf, folder / f"{name}.pdf") for name, paper in printed.items()}


@pytest.fixture(scope="session")
def reader(tmp_path_factory: pytest.TempPathFactory) -> Callable[[bytes], list[str]]:
    """Reads the pages of any PDF."""
    folder = tmp_path_factory.mktemp("read")
    return lambda pdf: read_pages(pdf, folder / "some.pdf")


def read_pages(pdf: bytes, path: Path) -> list[str]:
    """Text of the pages by poppler, an independent reader of PDF."""
    if shutil.which("pdftotext") is None:
        pytest.skip("no pdftotext here")
    path.write_bytes(pdf)
    done = subprocess.run(["pdftotext", "-enc", "UTF-8", str(path), "-"], capture_output=True, check=True)
    return [" ".join(page.replace("\u200b", "").split()) for page in done.stdout.decode("utf-8").split("\f")[:-1]]


def read_rows(pdf: bytes, path: Path) -> list[str]:
    """Text as it stands in the file, row by row of its tables."""
    if shutil.which("pdftotext") is None:
        pytest.skip("no pdftotext here")
    path.write_bytes(pdf)
    done = subprocess.run(["pdftotext", "-raw", "-enc", "UTF-8", str(path), "-"], capture_output=True, check=True)
    return done.stdout.decode("utf-8").replace("\u200b", "").splitlines()
