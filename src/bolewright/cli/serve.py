"""`bolewright serve`: the field sheet in the browser, on this machine."""

from __future__ import annotations

import importlib.util
import runpy
import sys
from typing import Annotated

import typer

from bolewright.cli.door import BAD_INPUT, say

NEEDS = ("django", "django_htmx", "ninja", "whitenoise", "waitress", "PIL")
Port = Annotated[int, typer.Option("--port", min=0, max=65535, help="Port on this machine; 0 takes any free one.")]
NoOpen = Annotated[bool, typer.Option("--no-open", help="Do not open the browser.")]
Address = Annotated[
    str, typer.Option("--address", help="Address to serve on; other than this machine's needs accounts.")
]
Name = Annotated[list[str] | None, typer.Option("--name", help="Name by which it is reached; may be given often.")]
Https = Annotated[bool, typer.Option("--https", help="A server on this machine puts https in front.")]
Alone = Annotated[bool, typer.Option("--alone", help="One person on this machine: nobody signs in or is asked.")]
Accounts = Annotated[bool, typer.Option("--accounts", help="Sign in on this machine too; makes the first account.")]


def serve(
    port: Port = 8321,
    no_open: NoOpen = False,
    address: Address = "127.0.0.1",
    name: Name = None,
    https: Https = False,
    alone: Alone = False,
    accounts: Accounts = False,
) -> None:
    """The field sheet: the same job measured, worked out and planned on a touch screen."""
    absent = [name for name in NEEDS if importlib.util.find_spec(name) is None]
    if absent:
        say(f"The field sheet needs {', '.join(absent)}: install it with  pip install 'bolewright[web]'.")
        sys.exit(BAD_INPUT)
    switches = [("--no-open", no_open), ("--https", https), ("--alone", alone), ("--accounts", accounts)]
    words = ["--port", str(port), "--address", address, *(word for word, on in switches if on)]
    for each in name or ():
        words += ["--name", each]
    # A program of its own in this process: the two rooms do not import each other.
    sys.argv = ["bolewright serve", *words]
    runpy.run_module("bolewright.web", run_name="__main__", alter_sys=True)
