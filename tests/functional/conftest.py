"""Shared by the tests of the pages: a data folder of their own, and an example job kept in the store."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest


@pytest.fixture
def data(settings: Any, tmp_path: Path) -> Path:
    """The data folder of this test."""
    settings.BOLEWRIGHT_DATA = tmp_path
    return tmp_path


@pytest.fixture
def kept(db: None, data: Path) -> Callable[..., Any]:
    """Keeps a shipped example, or a document, as a job."""
    from bolewright.job.syntax import tables_of
    from bolewright.reference.examples import examples
    from bolewright.store.revisions import new_job

    def keep(document: dict[str, Any] | None = None, example: str = "garage-oak", units: str = "us") -> Any:
        if document is not None:
            return new_job(document, "tester", "put in", units)
        text = examples()[example].read_text(encoding="utf-8")
        return new_job(tables_of(text), "tester", "put in", units, example)

    return keep
