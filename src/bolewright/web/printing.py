"""Starting, watching and finding the papers of a job. What runs is told by files, so a restart loses nothing."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

from bolewright.store.models import KeptJob
from bolewright.web.pages.common import data_folder
from bolewright.web.records import Records, written
from bolewright.web.runs import SILENT, read_file


@dataclass(frozen=True)
class Printed:
    """state: none | running | done | refused | lost. `titles` has the title of each file made."""

    state: str
    words: str = ""
    share: float = 0.0
    sentences: tuple[str, ...] = ()
    titles: dict[str, str] = field(default_factory=dict)
    folder: Path | None = None


def _folder(job: KeptJob, text: str, answer: str, records: str) -> Path:
    """One folder for each state of job, answer and records: papers of another state are never shown for this one."""
    digest = hashlib.sha256("\0".join((text, answer, records)).encode("utf-8")).hexdigest()
    return data_folder() / "runs" / f"papers-{job.pk}-{digest[:20]}"


def start(job: KeptJob, text: str, answer: str, records: Records) -> None:
    """Begin printing, unless that runs or is done already. Papers of an earlier state go."""
    kept = written(records)
    if look(job, text, answer, records).state in ("running", "done"):
        return
    folder = _folder(job, text, answer, kept)
    for old in folder.parent.glob(f"papers-{job.pk}-*"):
        (old / "cancel").touch()
        if (old / "made.json").exists() or (old / "fault.json").exists() or old == folder:
            shutil.rmtree(old, ignore_errors=True)
    folder.mkdir(parents=True)
    (folder / "job.toml").write_text(text, encoding="utf-8")
    (folder / "records.json").write_text(kept, encoding="utf-8")
    if answer:
        (folder / "answer.json").write_text(answer, encoding="utf-8")
    (folder / "progress.json").write_text(json.dumps({"words": "starting", "share": 0.0}), encoding="utf-8")
    with (folder / "log").open("wb") as log:
        command = [sys.executable, "-m", "bolewright.web.printer", str(folder)]
        environment = {**os.environ, "OPENBLAS_NUM_THREADS": "1"}
        subprocess.Popen(command, stdout=log, stderr=log, stdin=subprocess.DEVNULL, env=environment)


def cancel(job: KeptJob, text: str, answer: str, records: Records) -> None:
    """Ask a running printer to stop."""
    folder = _folder(job, text, answer, written(records))
    if folder.is_dir():
        (folder / "cancel").touch()


def look(job: KeptJob, text: str, answer: str, records: Records) -> Printed:
    """How it stands with the papers of this state of the job."""
    folder = _folder(job, text, answer, written(records))
    made = read_file(folder / "made.json")
    if made:
        return Printed("done", titles=dict(made["titles"]), folder=folder / "made")
    fault = read_file(folder / "fault.json")
    if fault:
        return Printed("refused", sentences=tuple(map(str, fault["sentences"])))
    progress = read_file(folder / "progress.json")
    if not progress:
        return Printed("none")
    if time.time() - (folder / "progress.json").stat().st_mtime > SILENT:
        return Printed("lost", sentences=("The printing ended without papers: start it again.",))
    return Printed("running", str(progress.get("words", "")), float(progress.get("share", 0.0)))
