"""Everything the template of the cause-of-failure record places."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date as day
from typing import Any

from bolewright.core.standing.decay import SHELL_RULE
from bolewright.core.standing.lookback import MOST_LOST, RULES_SOURCE
from bolewright.documents.briefing.pictures import picture
from bolewright.documents.cause.shown import would_have_shown
from bolewright.documents.given import PhotoRow
from bolewright.documents.standing import words as w
from bolewright.documents.standing.failed import ANSWERS, KINDS
from bolewright.documents.standing.photos import photographs
from bolewright.documents.standing.pictures import StandPictures
from bolewright.documents.standing.seen import could_not_see, observation_groups, test_rows
from bolewright.documents.standing.sources import caution_texts, sources
from bolewright.documents.text import all_on_paper, shortened
from bolewright.drawings import units as u
from bolewright.drawings.standing_lookback import needed_against_recorded
from bolewright.drawings.units import Units
from bolewright.job.failure import Failure, RootBroken
from bolewright.job.model import Job
from bolewright.planning.both import in_one
from bolewright.planning.standing.looked import Exhibited, LookBack
from bolewright.planning.standing.results import StandResult, StandSection

TITLE_IN_STRIP = 58
SAME_PLACE = 0.15  # m


def cause_data(job: Job, result: StandResult, pictures: StandPictures, photos: Sequence[PhotoRow],
               date: day | None) -> dict[str, Any]:  # fmt: skip
    """The data of the record."""
    failure, back, units = job.failure, result.look_back, pictures.units
    assert failure is not None
    assert back is not None
    data = {
        "title": job.job.title,
        "strip_title": shortened(job.job.title, TITLE_IN_STRIP),
        "date": w.day_parts(date),
        "paper": "us-letter" if units == "us" else "a4",
        "cover": _cover(job, result, failure, back, units),
        "observed": _observed(failure, units),
        "observations": observation_groups(job, result),
        "unseen": could_not_see(result),
        "measured": _measured(failure, units),
        "shells": [[side, str(depth)] for side, depth in (failure.shells or {}).items()],
        "roots": [_root(root, units) for root in failure.root],
        "section": _section(result, back, pictures),
        "tests": test_rows(result, units),
        "traces": pictures.traces(),
        "recorded": _recorded(failure, back, units),
        "chart": picture(needed_against_recorded(back, units))
        if failure.kind in ("stem", "roots") or back.limb
        else None,
        "worked": _worked(back, units),
        "words": back.words,
        "shown": would_have_shown(result, units),
        "shell_rule": f"{SHELL_RULE:.2f}",
        "loss_rule": w.percent(MOST_LOST),
        "rule_source": RULES_SOURCE,
        "opinion": back.opinion,
        "evidence": list(back.evidence),
        "exhibits": [_exhibit(exhibit) for exhibit in back.exhibits],
        "photos": photographs(job, photos),
        "notes": [in_one(note, units) for note in result.notes],
        "sources": sources(result, units),
        "cautions": caution_texts(),
        "inspector": (job.inspection.inspector if job.inspection is not None else None) or "",
    }
    found: dict[str, Any] = all_on_paper(data)
    return found


def _cover(job: Job, result: StandResult, failure: Failure, back: LookBack, units: Units) -> dict[str, Any]:
    inspected = job.inspection
    return {
        "facts": _told(
            ("Site", job.job.site), ("Owner", job.job.owner), ("Asked by", job.job.caller),
            ("Looked at by", inspected.inspector if inspected is not None else None),
            ("Looked at on", w.written(w.inspected_on(job))), ("Failed on", w.written(failure.date) or "not known"),
        ),
        "tree": w.tree_facts(job, result, units),
        "asked": (inspected.assignment if inspected is not None else None) or "",
        "limits": (inspected.limits if inspected is not None else None) or "",
        "what": KINDS[failure.kind],
        "answer": ANSWERS[back.answer],
    }  # fmt: skip


def _told(*rows: tuple[str, Any]) -> list[list[str]]:
    return [[name, str(value)] for name, value in rows if value not in (None, "", ())]


def _observed(failure: Failure, units: Units) -> list[list[str]]:
    """What anyone could see who stood there."""
    return _told(
        ("What failed", KINDS[failure.kind] + (f", {failure.limb}" if failure.limb else "")),
        ("It fell towards", failure.fell_towards),
        ("Break surface", failure.surface),
        ("Photographs of the break", ", ".join(failure.photo)),
    )


def _measured(failure: Failure, units: Units) -> list[list[str]]:
    """What was measured of the break or the roots, as written."""
    opening = f"{failure.opening}, side {failure.opening_side}" if failure.opening is not None else None
    return _told(
        ("Height of the break", w.as_measured(failure.height, units)),
        ("Diameter there, with bark", w.as_measured(failure.diameter, units)),
        ("Sound wood, all round", w.as_measured(failure.shell, units)),
        ("Old opening along the bark", opening),
        ("Buttress roots rotten or cut before", failure.roots_rotten),
    )


def _root(root: RootBroken, units: Units) -> dict[str, str]:
    """One root of the broken plate, as found."""
    return {
        "side": str(root.side) if root.side is not None else "",
        "diameter": w.as_measured(root.diameter, units),
        "state": root.state,
        "photo": ", ".join(root.photo),
    }


def _exhibit(exhibit: Exhibited) -> dict[str, str]:
    """One piece of evidence, where it is kept and which photographs show it."""
    return {
        "what": exhibit.what,
        "kind": exhibit.kind,
        "kept": exhibit.kept,
        "note": exhibit.note,
        "photo": ", ".join(exhibit.photo),
    }


def _section(result: StandResult, back: LookBack, pictures: StandPictures) -> dict[str, Any] | None:
    """The drawing of the section measured at the break."""
    tested = [section for section in result.sections if section.measured]
    for section, shown in zip(tested, pictures.sections(), strict=True):
        if _is_the_break(section, back):
            return shown
    return None


def _is_the_break(section: StandSection, back: LookBack) -> bool:
    return back.kind == "stem" and back.height_m is not None and abs(section.height_m - back.height_m) <= SAME_PLACE


def _recorded(failure: Failure, back: LookBack, units: Units) -> list[list[str]]:
    """The wind as recorded, and how far away."""
    how = "3-second gust" if failure.gust_is == "gust" else "10-minute mean, raised once to the gust in it"
    return _told(
        ("Wind recorded", f"{failure.gust} ({how})" if failure.gust is not None else "none"),
        ("As a gust", u.speed(back.recorded_m_s, units) if back.recorded_m_s is not None else None),
        ("Station and time", failure.station),
        ("Station from the tree", failure.station_distance),
        ("Wind came from", failure.wind_from),
    )


def _roots_lost(back: LookBack) -> str | None:
    return w.percent(back.roots_lost) if back.roots_lost is not None else None


def _worked(back: LookBack, units: Units) -> list[list[str]]:
    """What follows from the measurements."""
    lost = w.percent(back.loss_of_strength) if back.loss_of_strength is not None else None
    return _told(
        ("Gust needed, as measured", w.gust(back.needed_m_s, units)),
        ("Gust needed, if it had been sound", w.gust(back.needed_sound_m_s, units)),
        ("Strength lost to decay or cut roots", lost),
        ("Of the roots measured, rotten or cut before", _roots_lost(back)),
    )
