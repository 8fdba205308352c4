"""Starting the field sheet on this machine: data folder, tables, example jobs, server, browser."""

from __future__ import annotations

import argparse
import contextlib
import gc
import os
import sys
import threading
import webbrowser
from pathlib import Path

LOOPBACK = "127.0.0.1"
THREADS = 6
BODY_LIMIT = 45_000_000  # bytes: one photograph and its form


def main(words: list[str]) -> int:
    """Exit status 0 when it was ended by hand, 2 when it could not start, with one sentence why."""
    parser = argparse.ArgumentParser(
        prog="bolewright serve", description="The field sheet in the browser, on this machine."
    )
    parser.add_argument("--port", type=int, default=8321)
    parser.add_argument("--no-open", action="store_true")
    asked = parser.parse_args(words)
    os.environ.setdefault(
        "OPENBLAS_NUM_THREADS", "1"
    )  # small problems: threads of the numeric library only get in the way
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bolewright.web.settings")
    try:
        folder = prepared()
    except Exception as fault:
        return _cannot(fault)
    return _serve(folder, asked.port, not asked.no_open)


def prepared() -> Path:
    """Make the folder, its key, the tables and on first run the example jobs; gives back the folder."""
    from bolewright.store.folder import data_folder, ready

    folder = data_folder()
    ready(folder)
    import django

    django.setup()
    from django.core.management import call_command

    from bolewright.web.first import load_examples

    call_command("migrate", verbosity=0, interactive=False)
    load_examples()
    _warm()
    return folder


def _warm() -> None:
    """Open the heavy rooms before the first entry, and take what stays out of the way of the collector."""
    from bolewright.planning.live import quick  # noqa: F401
    from bolewright.web import urls  # noqa: F401

    gc.collect()
    gc.freeze()


def _cannot(fault: Exception) -> int:
    """One sentence for what a person can mend."""
    name = type(fault).__name__
    said = str(fault).strip().splitlines()[0] if str(fault).strip() else name
    print(f"The field sheet cannot start: {said}", file=sys.stderr)
    return 2


def _serve(folder: Path, port: int, open_it: bool) -> int:
    from waitress import create_server

    from bolewright.web.wsgi import application

    try:
        server = create_server(
            application, host=LOOPBACK, port=port, threads=THREADS, max_request_body_size=BODY_LIMIT, ident=None
        )
    except OSError as fault:
        why = fault.strerror or "it is taken"
        print(f"Port {port} cannot be used ({why}): give another with --port.", file=sys.stderr)
        return 2
    address = f"http://{LOOPBACK}:{server.effective_port}/"  # type: ignore[attr-defined,unused-ignore]
    print(f"Bolewright is at {address}  (data in {folder}; Ctrl-C ends it)", flush=True)
    if open_it:
        threading.Timer(0.3, webbrowser.open, [address]).start()
    with contextlib.suppress(KeyboardInterrupt):
        server.run()
    print("Ended. What was saved is kept.")
    return 0
