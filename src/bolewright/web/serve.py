"""Starting the field sheet on this machine: data folder, tables, example jobs, server, browser."""

from __future__ import annotations

import argparse
import contextlib
import gc
import ipaddress
import os
import sys
import threading
import webbrowser
from pathlib import Path

LOOPBACK = "127.0.0.1"
THREADS = 6


def main(words: list[str]) -> int:
    """Exit status 0 when it was ended by hand, 2 when it could not start, with one sentence why."""
    asked = parsed(words)
    # Small problems: threads of the numeric library only get in the way.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bolewright.web.settings")
    os.environ["BOLEWRIGHT_HOSTS"] = " ".join([*asked.name, *([] if is_loopback(asked.address) else [asked.address])])
    os.environ["BOLEWRIGHT_HTTPS"] = "1" if asked.https else ""
    try:
        folder = prepared()
        decide_who_signs_in(asked)
    except Exception as fault:
        return _cannot(fault)
    return _serve(folder, asked)


def parsed(words: list[str]) -> argparse.Namespace:
    """What was asked for on the command line."""
    parser = argparse.ArgumentParser(
        prog="bolewright serve", description="The field sheet in the browser, on this machine."
    )
    parser.add_argument("--port", type=int, default=8321)
    parser.add_argument("--no-open", action="store_true")
    parser.add_argument("--address", default=LOOPBACK)
    parser.add_argument("--name", action="append", default=[])
    parser.add_argument("--https", action="store_true")
    parser.add_argument("--alone", action="store_true")
    parser.add_argument("--accounts", action="store_true")
    return parser.parse_args(words)


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


def is_loopback(address: str) -> bool:
    """Whether only this machine can reach an address."""
    try:
        return ipaddress.ip_address(address).is_loopback
    except ValueError:
        return address == "localhost"


def decide_who_signs_in(asked: argparse.Namespace) -> None:
    """The one place that lets anybody in without signing in: on this machine alone, and only when that was asked for.

    It is asked for with --alone, or once on the first page, which is kept in the data folder until somebody has an
    account. A server that others reach by another address, by a name or through https needs accounts. Raises
    ValueError with one sentence.
    """
    from django.conf import settings

    from bolewright.store.folder import data_folder, kept_alone
    from bolewright.store.people import any_people

    here, people = is_loopback(asked.address), any_people()
    by_others = not here or bool(asked.name) or asked.https
    if asked.alone and (asked.accounts or by_others):
        raise ValueError(
            "--alone is for one person on this machine: leave out --accounts, --https, --name and any other --address."
        )
    if not here and not people:
        raise ValueError(
            "nobody has an account yet, so only this machine may be served: start it with --accounts, make the owner's "
            "account in the browser, end it, and start it again with this --address."
        )
    if not here and asked.address in ("0.0.0.0", "::") and not asked.name:
        raise ValueError("with this --address, say with --name by which name or address it will be reached.")
    settings.BOLEWRIGHT_MAY_BE_ALONE = not (by_others or people or asked.accounts)
    settings.BOLEWRIGHT_ALONE = asked.alone or (settings.BOLEWRIGHT_MAY_BE_ALONE and kept_alone(data_folder()))


def _start_page() -> str:
    """Where the browser is sent: to the first page with its code, until it is said who works here."""
    from django.conf import settings

    from bolewright.store.folder import data_folder, first_code
    from bolewright.store.people import any_people

    return "" if settings.BOLEWRIGHT_ALONE or any_people() else f"first?code={first_code(data_folder())}"


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


def _serve(folder: Path, asked: argparse.Namespace) -> int:
    from waitress import create_server
    from waitress.server import BaseWSGIServer

    from bolewright.web.doorway import BODY_LIMIT, Doorway
    from bolewright.web.wsgi import application

    BaseWSGIServer.channel_class = Doorway
    # Only a server on this machine that takes care of https may say by what address and from where it was asked.
    proxy = {"trusted_proxy": LOOPBACK, "trusted_proxy_headers": {"x-forwarded-proto", "x-forwarded-for"}}
    try:
        server = create_server(
            application, host=asked.address, port=asked.port, threads=THREADS, max_request_body_size=BODY_LIMIT,
            ident=None, **(proxy if asked.https else {}),
        )  # fmt: skip
    except (OSError, ValueError) as fault:
        why = getattr(fault, "strerror", None) or "it is taken, or is not an address of this machine"
        print(f"Port {asked.port} cannot be used ({why}): give another with --port.", file=sys.stderr)
        return 2
    host = f"[{asked.address}]" if ":" in asked.address else asked.address
    address = f"http://{host}:{server.effective_port}/"  # type: ignore[attr-defined,unused-ignore]
    print(f"Bolewright is at {address}  (data in {folder}; Ctrl-C ends it)", flush=True)
    start = address + _start_page()
    if start != address:
        print(f"Say who works here, or make the owner's account, at {start}", flush=True)
    if not is_loopback(asked.address) and not asked.https:
        print("Passwords cross this network readable: put a server with https in front, and start with --https.")
    if not asked.no_open:
        threading.Timer(0.3, webbrowser.open, [start]).start()
    with contextlib.suppress(KeyboardInterrupt):
        server.run()
    print("Ended. What was saved is kept.")
    return 0
