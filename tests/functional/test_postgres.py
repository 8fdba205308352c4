"""The store and the pages on a real PostgreSQL, started for this test and thrown away after it."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

PAGES = ("measure", "photos", "entries", "record")
ON_BOTH = ("tests/unit/store", *(f"tests/functional/test_web_{name}.py" for name in PAGES))
THESE = "test_revisions or at_once or two_tablets or taken_away or as_it_came or sent_twice or of_the_store"


def programs() -> Path | None:
    """Where initdb and pg_ctl are; distributions keep them off the path."""
    found = shutil.which("initdb")
    if found:
        return Path(found).resolve().parent
    return next(iter(sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), reverse=True)), Path()).parent


def as_server(*command: str) -> list[str]:
    """The server refuses to run as root: then as its own user."""
    return ["runuser", "-u", "postgres", "--", *command] if os.name == "posix" and os.getuid() == 0 else list(command)


@pytest.fixture
def url() -> Iterator[str]:
    """The address of an empty database on a server of its own."""
    here = programs()
    if here is None or not (here / "initdb").exists():
        if os.environ.get("REQUIRE_POSTGRES") == "1":
            pytest.fail("PostgreSQL is not installed here, and this run asks for it")
        pytest.skip("PostgreSQL is not installed here")
    folder = Path(tempfile.mkdtemp(prefix="bolewright-pg-"))
    if os.getuid() == 0:
        shutil.chown(folder, "postgres")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    options = f"-c listen_addresses=127.0.0.1 -c port={port} -c unix_socket_directories={folder} -c fsync=off"
    start = [str(here / "pg_ctl"), "-D", f"{folder}/data", "-w", "-l", f"{folder}/log", "-o", options, "start"]
    run(as_server(str(here / "initdb"), "-D", f"{folder}/data", "-U", "tree", "-A", "trust", "-E", "UTF8", "--no-sync"))
    run(as_server(*start))
    try:
        run([str(here / "createdb"), "-h", "127.0.0.1", "-p", str(port), "-U", "tree", "oak"])
        yield f"postgresql://tree@127.0.0.1:{port}/oak"
    finally:
        run(as_server(str(here / "pg_ctl"), "-D", f"{folder}/data", "-m", "immediate", "stop"))
        shutil.rmtree(folder, ignore_errors=True)


def run(command: list[str]) -> None:
    """Run to the end, with its words when it fails."""
    done = subprocess.run(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False, cwd="/", timeout=60
    )
    assert done.returncode == 0, f"{command}: {done.stdout[-2000:]}"


@pytest.mark.skipif(os.name == "nt", reason="started another way there")
def test_store_and_pages_on_postgresql(url: str, root: Path) -> None:
    """The same tests that run on SQLite, and that they ran on PostgreSQL."""
    environment = {**os.environ, "DATABASE_URL": url, "OPENBLAS_NUM_THREADS": "1"}
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-k", THESE, *ON_BOTH]
    done = subprocess.run(command, cwd=root, env=environment, capture_output=True, text=True, check=False, timeout=300)
    assert done.returncode == 0, done.stdout[-4000:]
    code = "from django.conf import settings as s; print(s.DATABASES['default']['ENGINE'])"
    environment["DJANGO_SETTINGS_MODULE"] = "bolewright.web.settings"
    seen = subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True)
    assert seen.stdout.strip() == "django.db.backends.postgresql"
