"""The door of every command: whatever goes wrong leaves as plain sentences and an exit status, never a traceback."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NoReturn

ANSWERED, ANSWER_IS_NO, BAD_INPUT, CRASHED, CANCELLED = 0, 1, 2, 70, 130
STOPPED = "Stopped. Nothing half-done was left behind."

Fault = tuple[str, str]  # path, sentence


def say(sentence: str) -> None:
    """One sentence on the error stream."""
    print(sentence, file=sys.stderr)


@contextmanager
def door(as_json: bool, folder: Path | None = None) -> Iterator[None]:
    """Turn whatever goes wrong inside into sentences and an exit status; `folder` takes the crash file if it exists."""
    try:
        yield
    except KeyboardInterrupt:
        say(STOPPED)
        sys.exit(CANCELLED)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # the reader left: nobody is there to tell
        sys.exit(ANSWERED)
    except Exception as error:
        faults = _faults_of(error)
        if faults is None:
            _crash(error, folder)
        _refuse(faults, as_json)


def _faults_of(error: Exception) -> list[Fault] | None:
    """The faults a person can act on, or None when the error is ours."""
    from bolewright.core.base.errors import BolewrightError
    from bolewright.job.faults import JobFaults

    if isinstance(error, JobFaults):
        return [(fault.path, fault.sentence) for fault in error.faults]
    if isinstance(error, BolewrightError):
        return [(error.path, error.sentence)]
    return None


def _refuse(faults: list[Fault], as_json: bool) -> NoReturn:
    if as_json:
        import json

        rows = [{"path": path, "sentence": sentence} for path, sentence in faults]
        print(json.dumps({"faults": rows}, indent=2, ensure_ascii=False))
    for path, sentence in faults:
        say(f"{path}: {sentence}" if path else sentence)
    sys.exit(BAD_INPUT)


def _crash(error: Exception, folder: Path | None) -> NoReturn:
    """One sentence, and the details in a file for whoever mends the tool."""
    from bolewright.cli.crash import keep

    kept = f"the details are in {keep(error, folder)}: send that file and the job file to whoever looks after this tool"
    say(f"Something went wrong inside bolewright, so there is no answer; {kept}.")
    sys.exit(CRASHED)
