"""Shared by all tests: repeatable property tests, and where things are."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "house", deadline=None, derandomize=True, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("house")


@pytest.fixture(scope="session")
def root() -> Path:
    """The top folder of the project."""
    return Path(__file__).resolve().parent.parent
