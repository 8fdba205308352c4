"""The order of work as text, one short card per step."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console
from rich.text import Text

from bolewright.cli.show import page as sheet
from bolewright.cli.show.hold import change
from bolewright.cli.show.page import Units
from bolewright.cli.show.page import files as files
from bolewright.core.base.range import Range
from bolewright.drawings import units as words
from bolewright.planning.results import CutsResult, CutStep, NextCut, Place, Plan

ALTERNATIVE_COLUMNS = ("Way", "Answer", "Most on building", "Time")
NEXT_COLUMNS = ("Cut first", "Comes off", "Building", "Your limits")
METHOD_HAZARDS = {"lower on a line": ("rope",), "crane pick": ("crane",), "roll off": ("roll",)}


def show(title: str, result: CutsResult, units: Units, hazards: tuple[str, ...] = ()) -> None:
    """Print the answer, what goes in place first, the steps, and the other ways; `hazards` are those of the site."""
    page = sheet.console()
    plan = result.chosen
    sheet.answer(page, title, _headline(result), good=result.status == "plan")
    if plan.summary != plan.dead_end:
        sheet.line(page, plan.summary)
    if result.status != "plan":
        _dead_end(page, plan)
    if result.states_seen:  # else nothing was worked out: what is not held has no load on the building to tell
        start, peak = (sheet.likely_force(force, units) for force in (plan.start_building_N, plan.peak_building_N))
        sheet.line(page, f"Building now: {start}")
        sheet.line(page, f"Building at most: {peak}")
    sheet.cautions(page, *hazards, *_hazards(plan))
    _places(page, plan.places, units)
    for step in plan.steps:
        _card(page, step, units)
    if plan.gear:
        sheet.heading(page, "Gear")
        sheet.line(page, ", ".join(plan.gear), indent=2)
    _alternatives(page, (plan, *result.alternatives), units)
    _next_cuts(page, result.next_cuts, units)
    sheet.notes(page, (*result.notes, *([result.rechecked] if result.rechecked else [])))
    sheet.filled_in(page, result.filled_in, units)
    sheet.heading(page, "Before you start")
    sheet.cautions(page, "cover", "cut")


def _headline(result: CutsResult) -> str:
    plan = result.chosen
    if result.status != "plan":
        return f"NO ORDER found {plan.title}"
    count = "1 step" if len(plan.steps) == 1 else f"{len(plan.steps)} steps"
    return f"PLAN {plan.title}: {count}, about {hours(plan.minutes)}"


def hours(minutes: float) -> str:
    """A time in hours and quarters: "1 h 45 min"."""
    quarters = max(1, round(minutes / 15))
    whole, rest = divmod(quarters * 15, 60)
    return " ".join(part for part in (f"{whole} h" if whole else "", f"{rest} min" if rest else "") if part)


def _dead_end(page: Console, plan: Plan) -> None:
    sheet.line(page, f"Dead end. {plan.dead_end}")
    for way in plan.opens:
        sheet.line(page, f"Would open it: {way}", indent=2)


def _hazards(plan: Plan) -> tuple[str, ...]:
    """The hazards this plan has, in the order to be read."""
    kinds = {place.kind for place in plan.places}
    found = [hazard for step in plan.steps for hazard in METHOD_HAZARDS.get(step.method, ())]
    found += ["prop"] if kinds & {"prop", "crib", "chock"} else []
    found += ["rope"] if "tie-back" in kinds else []
    return tuple(dict.fromkeys(["drop zone", *found]))


def _places(page: Console, places: Iterable[Place], units: Units) -> None:
    for n, place in enumerate(places):
        if n == 0:
            sheet.heading(page, "Put in place")
        where = f"{place.id} ({place.kind}) under {place.member} at {words.length(place.at_m, units)}"
        sheet.line(page, f"{where}: {place.timber}, {place.tightness}", indent=2)
        load, most = words.force_range(place.force_N, units), words.force(place.capacity_N, units)
        sheet.line(page, f"will carry {load}, can carry {most}. {place.why}", indent=4)


def _card(page: Console, step: CutStep, units: Units) -> None:
    page.print()
    page.print(Text(f"{step.n:>2}  {_what(step, units)}", style="bold"))
    for text in _lines(step, units):
        sheet.line(page, text, indent=4)


def _what(step: CutStep, units: Units) -> str:
    if step.action == "remove":
        return f"TAKE AWAY {step.piece}, the last piece: {step.method}"
    where = f"{step.piece}, {_where(step, units)}"
    if step.action != "cut":
        return f"{step.action.upper()} {where}"
    return f"CUT {where}, {words.size(step.diameter_m, units)} thick: {step.method}"


def _where(step: CutStep, units: Units) -> str:
    """How far along what a step is."""
    at = words.length(step.at_m, units)
    return f"{at} from the butt" if step.member == "stem" else f"{at} from the base of {step.member}"


def _lines(step: CutStep, units: Units) -> Iterable[str]:
    """The short lines under a step, most needed first."""
    if step.action != "place":
        more = f" with {', '.join(t for t in step.takes if t != step.piece)}" if len(step.takes) > 1 else ""
        yield f"Comes off{more}: {sheet.likely_mass(step.mass_kg, units)}"
    if step.bind is not None:
        yield step.bind.words
        if step.bind.spring_pole:
            yield "! Bent like a bow: it springs when cut. Keep out of the arc."
    if step.stand:
        yield f"Stand: {step.stand}"
    yield f"What stays: {sheet.moved(step.stays, units)}"
    if step.action != "place":
        yield f"What leaves: {sheet.moved(step.leaves, units)}"
    yield f"Building after: {words.force_range(step.building_after_N, units)}"
    yield f"Why now: {step.why}"
    yield from (f"Watch: {text}" for text in step.watch)
    yield from (f"STOP if {text}" for text in step.stop)
    if step.recheck:
        yield f"Second way of working it out: {step.recheck}"


def _alternatives(page: Console, plans: tuple[Plan, ...], units: Units) -> None:
    if len(plans) < 2:
        return
    sheet.heading(page, "Other ways")
    rows = ((p.title, p.status, words.force_range(p.peak_building_N, units), hours(p.minutes)) for p in plans)
    sheet.table(page, ALTERNATIVE_COLUMNS, rows)


def _next_cuts(page: Console, cuts: tuple[NextCut, ...], units: Units) -> None:
    if not cuts:
        return
    sheet.heading(page, "Every cut possible now")
    sheet.table(page, NEXT_COLUMNS, (_next(cut, units) for cut in cuts))
    for cut in cuts:
        if not cut.allowed:
            sheet.line(page, f"{cut.piece} is outside: {cut.why}", indent=2)


def _next(cut: NextCut, units: Units) -> tuple[str, str, str, str]:
    building = change(Range.exact(cut.building_change_N.likely), units)
    return cut.piece, words.mass(cut.mass_kg.likely, units), building, "inside" if cut.allowed else "outside"
