"""What the way out was worked out with where the job says nothing."""

from __future__ import annotations

from bolewright.job.model import Job
from bolewright.job.out import Machine
from bolewright.planning.filled import as_filled
from bolewright.planning.results import FilledIn

PRACTICE, MEMORY = "common practice", "from memory"
_NO_SOURCE = "judgement; no published source"


def filled_out(job: Job, machine: Machine | None) -> tuple[FilledIn, ...]:
    """Every value filled in for the way out."""
    rows: list[FilledIn] = []
    access = job.access
    if access is not None:
        rows += _fields(access, "access", {"state": "how firm the lawn is today", "soil": "soil under the turf"})
        if access.pressure is None:
            rows.append(_row("access.pressure", "by state of the lawn", "what a lawn may be pressed", MEMORY))
    if machine is not None:
        rows += _tyre(machine)
        rows.append(
            _row(f'machine["{machine.name}"]', "heaviest wheel 1.2 of the mean", "loads sit unevenly", PRACTICE)
        )
    if job.boards is not None:
        given = {"length": "a common sheet", "width": "a common sheet", "lap": "what stays put under wheels"}
        rows += _fields(job.boards, "boards", given)
        rows.append(_row("boards", "wet 0.75, short load 1.6", "strength of sheets on a lawn", MEMORY))
    times = ("set_up", "secure", "cut", "lower", "carry", "trip", "board", "load", "clean")
    rows += _fields(job.rates, "rates", dict.fromkeys(times, "time of a usual crew"))
    rows += _fields(job.haul, "haul", {"chipper": "a small chipper"})
    rows += _fields(job.day, "day", {"wind_limit": "gusts at which crews come down"})
    if job.crane is not None:
        rows += _fields(job.crane, "crane", {"hook": "a usual block and ball", "slings": "two slings with shackles",
                                             "margin": "what experienced operators keep in hand"})  # fmt: skip
    return tuple(rows)


def _fields(holder: object, path: str, fields: dict[str, str]) -> list[FilledIn]:
    given: set[str] = getattr(holder, "model_fields_set", set())
    return [
        as_filled(f"{path}.{name}", getattr(holder, name), why, _NO_SOURCE, PRACTICE)
        for name, why in fields.items()
        if name not in given
    ]


def _tyre(machine: Machine) -> list[FilledIn]:
    path = f'machine["{machine.name}"]'
    rows = []
    if machine.tyre_width is None and machine.runs_on == "wheels":
        rows.append(_row(f"{path}.tyre_width", "0.10 m", "a hand truck's tyre", MEMORY, "4 in"))
    if machine.tyre_width is None and machine.runs_on == "tracks":
        rows.append(_row(f"{path}.tyre_width", "0.20 m", "a small machine's track", PRACTICE, "8 in"))
    if machine.runs_on == "wheels" and machine.tyre_diameter is None:
        rows.append(_row(f"{path}.tyre_diameter", "0.40 m", "a hand truck's wheel", MEMORY, "16 in"))
    if machine.runs_on == "wheels" and machine.tyre_pressure is None:
        rows.append(_row(f"{path}.tyre_pressure", "200 kPa", "a hand truck's tyre", MEMORY, "29 psi"))
    if machine.runs_on == "tracks" and machine.contact is None:
        rows.append(_row(f"{path}.contact", "four times the track's width", "a small machine's track", PRACTICE))
    return rows


def _row(path: str, value: str, why: str, status: str, us: str = "") -> FilledIn:
    return FilledIn(path, value, why, _NO_SOURCE if status == PRACTICE else "recalled, not looked up", status, us)
