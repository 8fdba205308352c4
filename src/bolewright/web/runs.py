"""Starting, watching and collecting the long answer. What runs is told by files, so a restart loses nothing."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bolewright.store.answers import keep_answer, kept_answer
from bolewright.store.models import Answer, KeptJob, Revision
from bolewright.store.results import fingerprint
from bolewright.web.pages.common import data_folder

SILENT = 180.0  # seconds without a word from a worker after which it is taken for dead


@dataclass(frozen=True)
class Run:
    """state: none | running | done | refused | lost. `words` say what it is at, `share` how far it is."""

    state: str
    words: str = ""
    share: float = 0.0
    sentences: tuple[str, ...] = ()
    answer: Answer | None = None


def _folder(job: KeptJob, text: str) -> Path:
    return data_folder() / "runs" / f"{job.pk}-{fingerprint(text)[:20]}"


def start(job: KeptJob, text: str) -> None:
    """Begin working out a document, unless that runs or is done already."""
    if look(job, job.latest, text).state in ("running", "done"):
        return
    folder = _folder(job, text)
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    (folder / "job.toml").write_text(text, encoding="utf-8")
    (folder / "progress.json").write_text(json.dumps({"words": "starting", "share": 0.0}), encoding="utf-8")
    environment = {**os.environ, "OPENBLAS_NUM_THREADS": "1"}
    with (folder / "log").open("wb") as log:
        command = [sys.executable, "-m", "bolewright.web.worker", str(folder)]
        subprocess.Popen(command, stdout=log, stderr=log, stdin=subprocess.DEVNULL, env=environment)


def cancel(job: KeptJob, text: str) -> None:
    """Ask a running worker to stop."""
    folder = _folder(job, text)
    if folder.is_dir():
        (folder / "cancel").touch()


def look(job: KeptJob, revision: Revision, text: str) -> Run:
    """How it stands with a document; a finished answer is taken into the store."""
    known = kept_answer(job, text)
    if known is not None:
        return Run("done", answer=known)
    folder = _folder(job, text)
    found = read_file(folder / "answer.json")
    if found:
        answer = keep_answer(job, revision.number, text, str(found["text"]), float(found["seconds"]))
        shutil.rmtree(folder, ignore_errors=True)
        return Run("done", answer=answer)
    fault = read_file(folder / "fault.json")
    if fault:
        return Run("refused", sentences=tuple(map(str, fault["sentences"])))
    progress = read_file(folder / "progress.json")
    if not progress:
        return Run("none")
    if time.time() - (folder / "progress.json").stat().st_mtime > SILENT:
        return Run("lost", sentences=("The working out ended without an answer: start it again.",))
    return Run("running", str(progress.get("words", "")), float(progress.get("share", 0.0)))


def running() -> int:
    """How many documents are being worked out now."""
    count = 0
    for folder in (data_folder() / "runs").glob("*/"):
        progress, ended = folder / "progress.json", any((folder / f"{n}.json").exists() for n in ("answer", "fault"))
        with contextlib.suppress(OSError):
            count += not ended and time.time() - progress.stat().st_mtime <= SILENT
    return count


def read_file(place: Path) -> dict[str, Any]:
    """A small JSON file, {} while there is none or it is not whole."""
    try:
        found = json.loads(place.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}
