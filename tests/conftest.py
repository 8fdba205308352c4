"""Shared by all tests: repeatable property tests, and where things are."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "house", deadline=None, derandomize=True, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("house")


def pytest_configure() -> None:
    """Pages are tested as one person's machine unless a test asks for accounts; quick hashes for made-up passwords."""
    from django.conf import settings as pages

    pages.BOLEWRIGHT_ALONE = True
    pages.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture(scope="session")
def root() -> Path:
    """The top folder of the project."""
    return Path(__file__).resolve().parent.parent


@pytest.fixture(scope="session")
def django_db_modify_db_settings(
    django_db_modify_db_settings_parallel_suffix: None, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """SQLite in a file, as on a real machine: in memory, all threads of the pages would share one connection."""
    from django.db import connection

    if connection.vendor == "sqlite":
        connection.settings_dict["TEST"]["NAME"] = str(tmp_path_factory.mktemp("store") / "test.sqlite3")
        quick = "PRAGMA journal_mode=WAL; PRAGMA synchronous=OFF;"
        connection.settings_dict["OPTIONS"]["init_command"] = quick
