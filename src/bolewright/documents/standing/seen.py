"""What was looked for and what was tested, as rows of a paper."""

from __future__ import annotations

from typing import Any

from bolewright.drawings import units as u
from bolewright.drawings.standing_words import compass
from bolewright.drawings.units import Units
from bolewright.job.inspection import Observation
from bolewright.job.model import Job
from bolewright.planning.both import in_one
from bolewright.planning.standing.looked import Looked, ReadTest
from bolewright.planning.standing.results import StandResult

GROUP_WORDS = {
    "roots": "Roots and collar", "stem": "Stem", "branches": "Branches and unions", "crown": "Crown", "site": "Site",
    "targets": "Targets", "loads": "Loads",
}  # fmt: skip
STATES = ("seen", "could not see", "not seen")
TEST_WORDS = {
    "sounding": "sounded with a mallet", "probe": "probed", "drilling": "drilled", "opening": "opening measured",
    "pull": "pulled",
}  # fmt: skip


def observation_groups(job: Job, result: StandResult) -> list[dict[str, Any]]:
    """Every group in the order of the tree: what was seen, then what could not be seen, then what was not seen."""
    observations = job.inspection.observation if job.inspection is not None else ()
    groups = [_group(looked, [o for o in observations if o.group == looked.group]) for looked in result.looked]
    return [group for group in groups if group["rows"]]


def left_out(job: Job, result: StandResult) -> list[list[str]]:
    """Groups of which nothing was written down, with what is looked for there."""
    written = {o.group for o in (job.inspection.observation if job.inspection is not None else ())}
    return [[GROUP_WORDS[g.group], ", ".join(g.not_recorded)] for g in result.looked if g.group not in written]


def _group(looked: Looked, own: list[Observation]) -> dict[str, Any]:
    ranked = sorted(own, key=lambda o: STATES.index(o.state))
    return {
        "heading": GROUP_WORDS[looked.group],
        "rows": [_row(observation) for observation in ranked],
        "left": ", ".join(looked.not_recorded),
    }


def _row(o: Observation) -> dict[str, str]:
    told = {"side": o.side, "height": o.height, "size": o.size, "note": o.note}
    found = {key: "" if value is None else str(value) for key, value in told.items()}
    return {"what": o.what, "state": o.state, "photo": ", ".join(o.photo), **found}


def could_not_see(result: StandResult) -> list[str]:
    """What could not be seen, with the part of the tree it belongs to."""
    return [f"{GROUP_WORDS[g.group].lower()}: {what}" for g in result.looked for what in g.could_not_see]


def seen(job: Job, result: StandResult) -> list[str]:
    """What was seen, with the part of the tree it belongs to, and the note on it."""
    return [
        f"{group['heading']}: {', '.join(part for part in _told(row) if part)}"
        for group in observation_groups(job, result)
        for row in group["rows"]
        if row["state"] == "seen"
    ]


def _told(row: dict[str, str]) -> tuple[str, ...]:
    side = f"side {row['side']}" if row["side"] else ""
    return row["what"], side, row["height"], row["size"], row["note"]


def test_rows(result: StandResult, units: Units) -> list[dict[str, str]]:
    """The tests, in the order made."""
    return [_test(test, units) for test in result.tests]


def _test(test: ReadTest, units: Units) -> dict[str, str]:
    height = "" if test.height_m is None else u.length(test.height_m, units)
    side = "" if test.side_deg is None else compass(test.side_deg).split(" ")[0]
    return {
        "id": test.id,
        "kind": TEST_WORDS.get(test.kind, test.kind),
        "where": ", ".join(part for part in (height, side) if part),
        "said": in_one(test.words, units),
        "photo": ", ".join(test.photo),
    }
