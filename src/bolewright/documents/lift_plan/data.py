"""What stands in the lift plan."""

from __future__ import annotations

from bolewright.documents.briefing import words as w
from bolewright.documents.call_sheet.data import STATES
from bolewright.documents.common import caution_block, no_order, sources_section
from bolewright.documents.given import Given
from bolewright.documents.parts import Block, Section, entered, facts, pair, section, sign, table, words
from bolewright.drawings import units as u
from bolewright.job.paperwork import Lifting
from bolewright.planning.filled import as_set
from bolewright.planning.haul.results import OutResult
from bolewright.planning.results import CutStep, FilledIn

HANGS = ("lower on a line", "crane pick")
STATEMENT = (
    "I know this plan. The operator and the one who gives signals may say no to any lift, and a lift that is not in "
    "this plan is planned before it is made."
)


def lacking(given: Given) -> list[str]:
    """Something that hangs."""
    if given.plan is None:
        return [no_order(given)]
    if not _hanging(given):
        return ["No piece is let down on a line or lifted in this order of cuts, so there is nothing to plan."]
    return []


def sections(given: Given) -> list[Section]:
    """Pieces, gear, crane, people, lines near, cautions, names."""
    lifting, job = given.job.lifting or Lifting(), given.job
    crane = any(step.method == "crane pick" for step in _hanging(given))
    found = [
        section(
            "Pieces that hang",
            _pieces(given),
            plain="Every piece that is on a line or on a hook, with what it "
            "weighs. The range matters more than the likely value: gear is chosen for the high end.",
            wide=True,
        ),
        section(
            "Gear under each piece",
            _gear(given),
            plain="Each part of the gear against the limit its maker marks on it. A part without a mark is not rated.",
            wide=True,
        ),
        _crane(given) if crane or job.crane is not None else None,
        _who(given, lifting),
        _wires(given),
        section("Cautions", caution_block(*(("crane",) if crane else ()), "rope", "drop zone", "power"), wide=True),
        sources_section(_own_sources(given), given.units),
        section(
            "Known to",
            sign((("Lead", job.job.lead), ("Operator", lifting.operator), ("Signals", lifting.signals_by)), STATEMENT),
        ),
    ]
    return [part for part in found if part is not None]


def _who(given: Given, lifting: Lifting) -> Section:
    job, day = given.job.job, given.job.day
    return section(
        "Who",
        facts(
            ("Lead", job.lead),
            ("Operator", lifting.operator),
            ("Signals by", lifting.signals_by),
            ("Signals", lifting.signals),
            ("Stands on", lifting.footing),
            ("Wind limit", as_set(given.job, given.units, "day.wind_limit")),
            ("Forecast", day.wind),
        ),
        plain="One person gives signals. Anyone may call stop.",
    )


def _wires(given: Given) -> Section:
    wires = (line for line in given.job.job.utilities if line.kind in ("power", "telephone"))
    return section(
        "Wires near",
        table(
            (1, 2, 2),
            ("Service", "State", "Nearest distance"),
            ([line.kind, STATES[line.state], entered(line.distance)] for line in wires),
            empty="No wire is entered: treat every line as live.",
        ),
        plain="Boom, line and piece keep the distance, swing included.",
    )


def _own_sources(given: Given) -> list[FilledIn]:
    """Filled-in values that a lift leans on."""
    answers = (given.out, given.weigh)
    rows = [row for answer in answers if answer is not None for row in answer.filled_in]
    return [row for row in rows if row.path.startswith(("rigging", "crane", "handling", "tree."))]


def _hanging(given: Given) -> list[CutStep]:
    return [step for step in given.plan.steps if step.method in HANGS] if given.plan is not None else []


def _pieces(given: Given) -> Block:
    rows = [
        [
            str(step.n),
            step.piece,
            step.method,
            pair(w.mass(step.mass_kg, given.units)),
            w.place_on(step.member, step.at_m, given.units),
            step.leaves.words,
        ]
        for step in _hanging(given)
    ]
    return table((0.4, 0.6, 1.1, 1.4, 1.5, 1.9), ("Step", "Piece", "How", "Weighs (mass)", "Cut at", "Comes off"), rows)


def _gear(given: Given) -> Block:
    out = given.out
    lifts = out.lifts if out is not None else ()
    rows = [
        [
            lift.piece,
            held.part,
            pair(w.force(held.force_N, given.units)),
            "none given" if held.limit_N is None else u.force(held.limit_N, given.units),
            held.words,
            f"{held.source} ({held.status})",
        ]
        for lift in lifts
        for held in lift.held
    ]
    missing = "Rope, block and slings are not entered yet, so they are not checked."
    return table(
        (0.7, 1, 1.2, 0.9, 1, 1.6), ("Piece", "Gear", "Gets (force)", "Limit", "Answer", "Source"), rows, empty=missing
    )


def _crane(given: Given) -> Section:
    crane, out = given.job.crane, given.out
    if crane is None:
        return section(
            "On the hook",
            words("No crane with its chart is entered yet. Nothing is said about whether it can lift these pieces."),
        )
    return section(
        "On the hook",
        _picks(out, given),
        facts(
            ("Radius", crane.radius or "each piece its own, from where the boom turns"),
            ("Hook and block", crane.hook),
            ("Slings", crane.slings),
            ("Kept in hand", f"{crane.margin} of the chart"),
            ("Taken off for stowed", crane.stowed),
        ),
        words("Chart as typed in: " + "; ".join(line.strip() for line in crane.chart.splitlines() if line.strip())),
        plain="The chart comes from the crane's own book for the set-up used. Below it, a share is kept in hand.",
        wide=True,
    )


def _picks(out: OutResult | None, given: Given) -> Block:
    picks = out.picks if out is not None else ()
    units = given.units
    rows = [
        [
            one.piece,
            pair(w.mass(one.mass_kg, units)),
            u.length(one.radius_m, units),
            u.mass(one.gross_kg, units),
            u.mass(one.net_kg, units),
            one.words,
        ]
        for one in picks
    ]
    heads = ("Piece", "Weighs (mass)", "Radius", "With hook, slings", "Chart leaves", "Answer")
    return table((0.8, 1.2, 0.9, 1, 1, 1.6), heads, rows, empty="No pick was worked out against the chart.")
