"""Prints the papers of a job in a process of its own: `python -m bolewright.web.printer FOLDER`.

Reads job.toml, answer.json (may be missing) and records.json in the folder; writes progress.json as it goes, then the
papers into made/ and made.json, or fault.json, each whole.
"""

from __future__ import annotations

import os
import shutil
import sys
import traceback
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from bolewright.web.worker import Cancelled, put

if TYPE_CHECKING:
    from bolewright.documents.insurer_pack.bundle import Pack


def main(folder: Path) -> int:
    """Exit status 0 when there are papers or a plain reason why not."""
    import django

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bolewright.web.settings")
    django.setup()  # names the tables; nothing is read from the database here
    from bolewright.documents.papers import make
    from bolewright.web.records import NOT_WHOLE, given, read_back

    def report(words: str, share: float) -> None:
        put(folder, "progress.json", {"words": words, "share": share, "pid": os.getpid()})
        if (folder / "cancel").exists():
            raise Cancelled

    try:
        report("reading the job", 0.0)
        answer = folder / "answer.json"
        text = (folder / "job.toml").read_text(encoding="utf-8")
        worked = answer.read_text(encoding="utf-8") if answer.exists() else ""
        found = given(text, worked, read_back((folder / "records.json").read_text(encoding="utf-8")), pictures=True)
        if found is None:
            put(folder, "fault.json", {"sentences": [NOT_WHOLE]})
            return 0
        made = make(found, report=report)
        report("writing", 1.0)
        _write(folder, made.files)
        not_made = [{"title": paper.title, "reasons": list(paper.reasons)} for paper in made.not_made]
        put(folder, "made.json", {"titles": made.titles, "not_made": not_made})
    except Cancelled:
        put(folder, "fault.json", {"sentences": ["It was stopped before it was done. No paper was left half-written."]})
    except Exception:  # ours: the page must not wait for papers that will not come
        traceback.print_exc()
        said = "Something went wrong inside while the papers were made; the details are in the data folder, under runs."
        put(folder, "fault.json", {"sentences": [said]})
    return 0


def _write(folder: Path, files: Mapping[str, bytes | Pack]) -> None:
    """All papers under their names at once, or none."""
    beside = folder / ".made"
    shutil.rmtree(beside, ignore_errors=True)
    beside.mkdir()
    for name, content in files.items():
        with (beside / name).open("wb") as out:
            out.write(content) if isinstance(content, bytes) else content.write(out)
    os.replace(beside, folder / "made")


if __name__ == "__main__":
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    sys.exit(main(Path(sys.argv[1])))
