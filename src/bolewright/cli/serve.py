"""`bolewright serve`: the field sheet in the browser, on this machine."""

from __future__ import annotations

import importlib.util
import runpy
import sys
from typing import Annotated

import typer

from bolewright.cli.door import BAD_INPUT, say

NEEDS = ("django", "django_htmx", "whitenoise", "waitress", "PIL")
Port = Annotated[int, typer.Option("--port", min=0, max=65535, help="Port on this machine; 0 takes any free one.")]
NoOpen = Annotated[bool, typer.Option("--no-open", help="Do not open the browser.")]


def serve(port: Port = 8321, no_open: NoOpen = False) -> None:
    """The field sheet: the same job measured, worked out and planned on a touch screen."""
    absent = [name for name in NEEDS if importlib.util.find_spec(name) is None]
    if absent:
        say(f"The field sheet needs {', '.join(absent)}: install it with  pip install 'bolewright[web]'.")
        sys.exit(BAD_INPUT)
    # A program of its own in this process: the two rooms do not import each other.
    sys.argv = ["bolewright serve", "--port", str(port), *(["--no-open"] if no_open else [])]
    runpy.run_module("bolewright.web", run_name="__main__", alter_sys=True)
