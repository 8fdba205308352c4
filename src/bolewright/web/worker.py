"""Works out one job in a process of its own, so that the pages stay quick: `python -m bolewright.web.worker FOLDER`.

Reads job.toml in the folder; writes progress.json as it goes and answer.json or fault.json at the end, each whole.
"""

from __future__ import annotations

import json
import os
import sys
import time
import traceback
from pathlib import Path
from typing import Any


def main(folder: Path) -> int:
    """Exit status 0 when there is an answer or a plain reason why not."""
    from bolewright import planning
    from bolewright.core.base.errors import BolewrightError
    from bolewright.job.faults import JobFaults
    from bolewright.job.read import loads
    from bolewright.planning.holding.model import model_of
    from bolewright.store.results import Worked, written

    start = time.monotonic()

    def report(words: str, share: float) -> None:
        put(folder, "progress.json", {"words": words, "share": share, "pid": os.getpid()})
        if (folder / "cancel").exists():
            raise Cancelled

    try:
        report("reading the job", 0.0)
        job = loads((folder / "job.toml").read_text(encoding="utf-8"))
        model = model_of(job)
        cut = planning.cuts(job, report, model)
        worked = Worked(planning.weigh(job), planning.hold(job, model), cut, planning.scene(job, cut, model))
        put(folder, "answer.json", {"seconds": time.monotonic() - start, "text": written(worked)})
    except Cancelled:
        put(folder, "fault.json", {"sentences": ["It was stopped before it was done."]})
    except JobFaults as faults:
        put(folder, "fault.json", {"sentences": [str(fault) for fault in faults.faults[:20]]})
    except BolewrightError as error:
        put(folder, "fault.json", {"sentences": [error.sentence]})
    except Exception:  # ours: the page must not wait for an answer that will not come
        traceback.print_exc()
        said = "Something went wrong inside while this was worked out; the details are in the data folder, under runs."
        put(folder, "fault.json", {"sentences": [said]})
    return 0


class Cancelled(Exception):
    """Somebody asked for it to stop."""


def put(folder: Path, name: str, content: dict[str, Any]) -> None:
    """Write a file whole."""
    beside = folder / f".{name}"
    beside.write_text(json.dumps(content), encoding="utf-8")
    os.replace(beside, folder / name)


if __name__ == "__main__":
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    sys.exit(main(Path(sys.argv[1])))
