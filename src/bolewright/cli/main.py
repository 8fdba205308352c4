"""The `bolewright` command: one module per command, heavy rooms opened only when a command needs them."""

from __future__ import annotations

import io
import os
import sys
from typing import Annotated

import typer

import bolewright
from bolewright.cli import check, cuts, demo, hold, out, paperwork, record, screen, serve, stand, weigh
from bolewright.cli.door import STOPPED, say

app = typer.Typer(
    name="bolewright",
    help="What holds up a tree lying on a building, and in what order to cut it.",
    epilog="It advises; the qualified person on site decides.",
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
)


def _version(asked: bool) -> None:
    if asked:
        print(f"bolewright {bolewright.__version__}")
        raise typer.Exit


@app.callback()
def _top(version: Annotated[bool, typer.Option("--version", callback=_version, is_eager=True)] = False) -> None:
    pass


app.command()(demo.demo)
app.command()(check.check)
app.command()(weigh.weigh)
app.command()(hold.hold)
app.command()(cuts.cuts)
app.command()(out.out)
app.command()(record.record)
app.command()(paperwork.papers)
app.command()(stand.stand)
app.command()(screen.screen)
app.command()(serve.serve)


def run() -> None:
    """Run the command line; Ctrl-C outside a command is one sentence too."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # many small products: a second thread only waits for the first
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")  # a console of another code page must not end a plan
    try:
        app()
    except KeyboardInterrupt:
        say(STOPPED)
        sys.exit(130)
