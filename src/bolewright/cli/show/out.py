"""Getting the wood out, as text."""

from __future__ import annotations

from rich.console import Console

from bolewright.cli.show import money
from bolewright.cli.show import page as sheet
from bolewright.cli.show.money import changed as changed
from bolewright.cli.show.page import Units
from bolewright.cli.show.page import files as files
from bolewright.core.base.range import Range
from bolewright.drawings import units as words
from bolewright.planning.haul.daywork import DayPlan
from bolewright.planning.haul.price import Price, Way
from bolewright.planning.haul.results import BoardsOut, GroundOut, OutResult, StepHours

AGAIN = (
    "These are cut again where they land. Where that cannot be done, write access.cut_again = false: then the cut "
    "order takes nothing off at once that does not get out."
)
HOUR_COLUMNS = ("Step", "Crew hours", "What is in it")
MATERIAL_COLUMNS = ("What", "Weighs", "Takes up", "For its room", "")
LOAD_COLUMNS = ("Truck", "With", "At the heaviest")
LIFT_COLUMNS = ("Piece", "Gear", "Gets", "Limit", "")
PICK_COLUMNS = ("Piece", "Weighs", "Chart leaves", "")


def show(title: str, result: OutResult, price: Price | None, ways: tuple[Way, ...], day: DayPlan, units: Units) -> None:
    """Print the answer, the lawn, what must be cut shorter, hours, loads and price."""
    page = sheet.console()
    sheet.answer(page, title, result.status.upper(), good=not result.outside)
    for reason in result.outside:
        sheet.line(page, reason)
    sheet.line(
        page,
        f"{result.trips} trips with {result.machine}, {result.sheets} sheets, heaviest part "
        f"{words.mass_range(result.heaviest_kg, units)}, {_hours(result.hours)} of the crew",
    )
    _lawn(page, result.ground, result.boards, units)
    _pulled(page, result, units)
    if result.shorter:
        sheet.heading(page, "Cut shorter, said back to the cut order")
    for one in result.shorter:
        sheet.line(page, one.sentence, indent=2)
    if result.shorter and result.cut_again:
        sheet.line(page, AGAIN, indent=2)
    _picks(page, result, units)
    _lifts(page, result, units)
    sheet.heading(page, "Hours of the crew, likely (from to)")
    sheet.table(page, HOUR_COLUMNS, (_step(step) for step in result.steps))
    _day(page, day)
    _materials(page, result, units)
    _loads(page, result, units)
    money.show(page, price, ways)
    sheet.cautions(page, *(("crane",) if result.picks else ()), *(("rope",) if result.lifts else ()), "crew")
    sheet.notes(page, result.notes)
    sheet.filled_in(page, result.filled_in, units)


def _pulled(page: Console, result: OutResult, units: Units) -> None:
    """Pushing, holding back, dragging and rolling."""
    if result.push is not None:
        limit = words.force(result.push.limit_N, units)
        sheet.line(page, f"Pushing takes {words.force_range(result.push.force_N, units)}: {result.push.words}")
        sheet.line(page, f"{limit} for one person ({result.push.source})", indent=2)
    if result.push is not None and result.push.holding_N.high > 0.0:
        back = words.force_range(result.push.holding_N, units)
        sheet.line(page, f"Downhill it has to be held back with {back}", indent=2)
    if result.drag is not None:
        pull = words.force_range(result.drag.pull_N, units)
        sheet.line(
            page, f"Dragging {result.drag.piece} whole takes {pull} ({result.drag.source}; {result.drag.status})"
        )
        for one in result.drag.geared:
            gained = words.force_range(one.pull_N, units)
            sheet.line(page, f"{one.system}: {gained} ({one.source}; {one.status})", indent=2)
        rolled = words.force_range(result.drag.rolled_up_N, units)
        sheet.line(page, f"Rolled up planks of 20 degrees, the rope under it and back: {rolled}", indent=2)


def _hours(hours: Range) -> str:
    return f"{hours.likely:.1f} h ({hours.low:.1f} to {hours.high:.1f})"


def _step(step: StepHours) -> tuple[str, str, str]:
    learnt = f"; own record {step.learnt:.2f} times the plan" if step.learnt != 1.0 else ""
    return step.step, _hours(step.hours), step.why + learnt


def _lawn(page: Console, ground: GroundOut | None, boards: BoardsOut | None, units: Units) -> None:
    if ground is None:
        sheet.line(page, "No lawn or soil on the way out.")
        return
    sheet.heading(page, f"On the {ground.surface}, {ground.state}")
    limit = f"limit {words.pressure(ground.limit_kPa, units)} ({ground.limit_source}; {ground.limit_status})"
    bare = words.pressure_range(ground.bare_kPa, units)
    if ground.boards_kPa is not None:
        sheet.line(page, f"Under boards {words.pressure_range(ground.boards_kPa, units)}; {limit}", indent=2)
        sheet.line(page, f"Without boards {bare}", indent=2)
    else:
        sheet.line(page, f"Under the wheels {bare}; {limit}", indent=2)
    if ground.wheel_N.high > 0.0:
        wheel = words.force_range(ground.wheel_N, units)
        sheet.line(page, f"Heaviest wheel or track {wheel}, {ground.passes} passes", indent=2)
    if ground.bare_rut_m.high > 0.0:
        sheet.line(page, f"Ruts without boards {_small(ground.bare_rut_m, units)} after all trips", indent=2)
    if ground.boards_dent_m is not None:
        sheet.line(page, f"Boards sag {_small(ground.boards_dent_m, units)} under the wheel", indent=2)
    if boards is not None:
        sheet.line(page, f"Boards: {boards.needed} needed, {boards.have} on the truck; {boards.words}", indent=2)
    if boards is not None and boards.practice:
        sheet.line(page, f"{boards.practice} ({boards.mark})", indent=2)
    if boards is not None and boards.by_state:
        most = ", ".join(f"{state} {_most(load, units)}" for state, load in boards.by_state)
        sheet.line(page, f"Most on the machine, by these boards or its own limit: {most}", indent=2)


def _most(load: Range, units: Units) -> str:
    """The load at which boards stop being workable; one number where the machine's own limit comes first."""
    return words.mass_range(load, units) if load.likely >= 1.0 else "nothing"


def _small(value: Range, units: Units) -> str:
    low, likely, high = (words.small(end, units) for end in (value.low, value.likely, value.high))
    return f"{likely} ({low} to {high})"


def _picks(page: Console, result: OutResult, units: Units) -> None:
    if not result.picks:
        return
    sheet.heading(page, "On the hook, against the chart typed in")
    rows = (
        (one.piece, words.mass_range(one.mass_kg, units), words.mass(one.net_kg, units), one.words)
        for one in result.picks
    )
    sheet.table(page, PICK_COLUMNS, rows)


def _lifts(page: Console, result: OutResult, units: Units) -> None:
    if not result.lifts:
        return
    sheet.heading(page, "On the line and on the hook")
    rows = [
        (
            lift.piece,
            held.part,
            words.force_range(held.force_N, units),
            "" if held.limit_N is None else words.force(held.limit_N, units),
            f"{held.words} ({held.source}; {held.status})",
        )
        for lift in result.lifts
        for held in lift.held
    ]
    sheet.table(page, LIFT_COLUMNS, rows)


def _day(page: Console, day: DayPlan) -> None:
    if day.ends_likely:
        sheet.line(page, f"Ends {day.ends_likely} as likely, {day.ends_late} if every step takes its longest")
    for reason in (day.wind, *(r for r in day.reasons if r != day.wind), day.order):
        if reason:
            sheet.line(page, reason)


def _loads(page: Console, result: OutResult, units: Units) -> None:
    if not result.loads:
        return
    sheet.heading(page, "Loads")
    rows = (
        (one.carrier, f"{one.kind}: {', '.join(one.items)}", words.mass(one.mass_kg, units)) for one in result.loads
    )
    sheet.table(page, LOAD_COLUMNS, rows)


def _materials(page: Console, result: OutResult, units: Units) -> None:
    """Logs, chips and brush in all, whether they go or stay."""
    sheet.heading(page, "Wood in all")
    rows = (
        (one.kind, words.mass_range(one.mass_kg, units), words.room_range(one.room_m3, units),
         words.bulk(one.bulk_kg_m3, units),
         f"{'stays on the site' if one.stays else 'goes'} ({one.source}; {one.status})")
        for one in result.materials
        if one.room_m3.likely > 0.0
    )  # fmt: skip
    sheet.table(page, MATERIAL_COLUMNS, rows)
