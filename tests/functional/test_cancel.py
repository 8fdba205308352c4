"""Ctrl-C while a command works, in a real process."""

from __future__ import annotations

import os
import signal
import subprocess
import sys

import pytest

SLOW = """
import sys, time
from types import SimpleNamespace
from bolewright.cli import late
def work(_job):
    print("working", flush=True)
    time.sleep(60)
late.load_job = lambda _name, _question: SimpleNamespace()
late.hold_job = work
sys.argv = ["bolewright", "hold", "job.toml"]
from bolewright.cli.main import run
run()
"""


@pytest.mark.skipif(os.name == "nt", reason="signals are sent otherwise there")
def test_cancel_is_one_sentence_and_130() -> None:
    """The process ends at once, with status 130 and one line, no traceback."""
    reset = "import signal\nsignal.signal(signal.SIGINT, signal.default_int_handler)\n"
    command = [sys.executable, "-c", reset + SLOW]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "working\n"
        process.send_signal(signal.SIGINT)
        _, err = process.communicate(timeout=20)
    assert process.returncode == 130
    assert err == "Stopped. Nothing half-done was left behind.\n"
