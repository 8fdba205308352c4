"""What stands in the daily log."""

from __future__ import annotations

from bolewright.documents.given import Given
from bolewright.documents.parts import Block, Section, blanks, facts, section, sign, table, words
from bolewright.drawings import units as u
from bolewright.planning.filled import as_set


def lacking(_given: Given) -> list[str]:
    """Nothing: without entries it is a sheet to write on."""
    return []


def sections(given: Given) -> list[Section]:
    """Who and where, the lines, hours worked, rows to write on, the lead's name."""
    return [
        _who(given),
        section(
            "As written down",
            log_table(given),
            plain="Times as they were written. Nothing in here is worked out.",
            wide=True,
        ),
        section("Hours worked", hours_worked(given), plain="Crew time, step by step. The bill is made from these."),
        _taken_away(given),
        section("More lines", blanks((0.6, 3.6, 1), ("Time", "What happened", "Who"), below=2.0), wide=True),
        section("Kept by", sign((("Lead", given.job.job.lead),), "This is the day as it went.")),
    ]


def _who(given: Given) -> Section:
    job, day = given.job.job, given.job.day
    return section(
        "Where and who",
        facts(
            ("Site", job.site),
            ("Lead", job.lead),
            ("Crew", ", ".join(job.crew)),
            ("Forecast", day.wind),
            ("Wind limit", as_set(given.job, given.units, "day.wind_limit")),
        ),
        plain="Written as it happens, not from memory in the evening.",
    )


def _taken_away(given: Given) -> Section:
    """The loads planned, with a column for the time each went."""
    loads = given.out.loads if given.out is not None else ()
    return section(
        "Taken away",
        table(
            (1.4, 1, 1, 1),
            ("Truck", "With", "At the heaviest, planned", "Went at"),
            ([one.carrier, one.kind, u.mass(one.mass_kg, given.units), ""] for one in loads),
            empty="No loads were planned.",
        ),
        wide=True,
    )


def log_table(given: Given) -> Block:
    """Lines of the job document and of the field sheet, in order of time as written."""
    day = given.day
    rows = [[f"{line.on or day or ''} {line.at}".strip(), line.what, line.by or "–"] for line in given.job.log] + [
        [row.at, f"{row.kind}: {row.said}" if row.said else row.kind, row.by or "–"] for row in given.log
    ]
    rows.sort(key=lambda row: row[0])
    return table((1.1, 3.4, 1), ("Time", "What happened", "Written by"), rows, empty="Nothing is written down yet.")


def hours_worked(given: Given) -> Block:
    """Hours entered, beside those planned."""
    planned = {step.step: step.hours for step in given.out.steps} if given.out is not None else {}
    rows = []
    for step in dict.fromkeys(row.step for row in given.job.worked):
        entries = [str(row.hours) for row in given.job.worked if row.step == step]
        plan = planned.get(step)
        rows.append(
            [step, " + ".join(entries), f"{plan.likely:.1f} h ({plan.low:.1f} to {plan.high:.1f})" if plan else "–"]
        )
    if not rows:
        return words("not entered yet")
    return table((1, 1.4, 1.6), ("Work", "Worked, crew", "Planned"), rows)
