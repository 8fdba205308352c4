"""What stands in the work order."""

from __future__ import annotations

from bolewright.documents.briefing import words as w
from bolewright.documents.briefing.pictures import Pictures
from bolewright.documents.common import caution_block, hours_table, order_table, parties
from bolewright.documents.given import Given
from bolewright.documents.parts import Block, Section, facts, picture, points, section, table, ticks, words
from bolewright.documents.work_order.way import way_out
from bolewright.job.paperwork import Terms
from bolewright.planning.filled import as_set


def lacking(given: Given) -> list[str]:
    """What the tree weighs: without it there is nothing to order."""
    return [] if given.weigh is not None else [given.why_not.get("weigh", "The tree cannot be weighed as entered.")]


def sections(given: Given) -> list[Section]:
    """Where, order, gear, stop limits, drawing, way out, agreements, hours."""
    found = [
        section(
            "Where and who", parties(given), _crew(given), plain="Call before you drive if anything here is missing."
        ),
        section(
            "The order in short",
            *_order(given),
            plain="The briefing has a card for every step. This is only the list.",
            wide=True,
        ),
        section("Gear", ticks(_gear(given), "No gear list: no order of cuts."), wide=True),
        section(
            "Stop limits",
            _limits(given),
            caution_block("weather"),
            plain="Set before the start, so that nobody has to argue at the saw.",
        ),
        _from_above(given),
        way_out(given),
        section(
            "Agreed with the customer",
            *_agreed(given.job.terms or Terms()),
            plain="What the crew may be asked about on the lawn. Anything else is a change order first.",
        ),
        section("Photographs", _views(given), plain="What is gone cannot be photographed: before the first cut."),
        section("Hours planned", hours_table(given), wide=True),
    ]
    return [part for part in found if part is not None]


def _crew(given: Given) -> Block:
    job = given.job
    day = given.day_plan
    return facts(
        ("Lead", job.job.lead),
        ("Crew", ", ".join(job.job.crew)),
        ("Start", job.day.start),
        ("Ends", f"{day.ends_likely} as likely, {day.ends_late} at the longest" if day and day.ends_likely else None),
        ("Hospital", job.job.hospital),
    )


def _order(given: Given) -> list[Block]:
    plan = given.plan
    return [*([words(w.method_line(plan), strong=True)] if plan is not None else []), order_table(given)]


def _gear(given: Given) -> list[str]:
    found = list(given.plan.gear) if given.plan is not None else []
    out = given.out
    if out is not None:
        found += [f"{out.sheets} sheets for the lawn"] if out.sheets else []
        found += [out.machine] if out.machine != "by hand" else []
        found += list(dict.fromkeys(load.carrier for load in out.loads))
    return list(dict.fromkeys(found))


def _from_above(given: Given) -> Section | None:
    if given.scene is None or given.hold is None:
        return None
    shown = Pictures(given.scene, given.hold, given.units).from_above(given.plan)
    return section("From above", picture(shown, most=4.6), wide=True)


def _agreed(terms: Terms) -> list[Block]:
    return [
        points(terms.scope),
        facts(("Wood and chips", terms.wood), ("Under the lawn", terms.buried), ("Neighbours", terms.neighbour)),
        words("Not part of it:", strong=True),
        points(terms.excluded),
    ]


def _views(given: Given) -> Block:
    if not given.views:
        return words(
            "Whole tree from three sides, butt, every place it bears, wires, damage, the way out: before "
            "anything moves. Props before the first cut. The same places again at the end."
        )
    rows = [[view.stage, view.words, view.state + (f": {view.reason}" if view.reason else "")] for view in given.views]
    return table((0.7, 3, 1.1), ("When", "View", ""), rows)


def _limits(given: Given) -> Block:
    day, limits = given.job.day, given.job.limits
    return facts(
        ("Wind", f"gusts over {as_set(given.job, given.units, 'day.wind_limit')}: nobody works off the ground"),
        ("Forecast", f"gusts of {day.wind}" if day.wind is not None else None),
        ("Light until", day.light_until),
        ("On the building", limits.building if limits.building is not None else "what it carries as found"),
        ("Movement", f"{as_set(given.job, given.units, 'limits.movement')} at any support in one step"),
    )
