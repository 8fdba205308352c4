"""The fields of the sheet: which tables of the job document stand on a page, and in what order."""

from __future__ import annotations

from functools import cache

from bolewright.web.cells import Section, section
from bolewright.web.standing_fields import standing_sections


@cache
def call_sections() -> tuple[Section, ...]:
    """Who, where, when, and what is dangerous there."""
    return (
        section("job", "The call", "Ask and write while the caller is on the line.",
                "title site caller owner date people_out lead crew hospital notes"),
        section("job.utilities", "Wires, gas, water", "Live until the utility itself has said otherwise.",
                "kind state distance", "service line"),
    )  # fmt: skip


@cache
def measure_sections() -> tuple[Section, ...]:
    """In the order a tape goes along the tree."""
    return (
        section("tree", "The tree", "What it is and what still holds its butt.",
                "species attached bearing dbh density moisture_note"),
        section("tree.stem", "Stem, from the butt outward",
                "One row a station. Height is the underside above the ground.", "at diameter height offset", "station"),
        section("tree.limb", "Limbs",
                "Clock looking butt to tip: 12 up, 3 right. Angle from the parent towards its tip.",
                "id on at clock angle length diameter tip_diameter foliage broken", "limb"),
        section("support", "What it rests on",
                "One row for each place the wood touches. Leave the gap out when it does.",
                "id member at on feel gap friction stiffness limit width tolerance", "support"),
        section("tree.root_plate", "Root plate", "Only when the butt is held by a root plate.",
                "diameter thickness soil"),
        section("tree.hinge", "Hinge", "Only when fibre still joins a snapped stem to its stump.", "share"),
        section("building", "Buildings", "Distances forward from the butt; left and right of the butt line.",
                "id near far left right eave ridge ridge_runs overhang", "building"),
        section("tree.decay", "Decay", "Sound wood in from the bark, over a stretch of a member.",
                "member from to shell", "stretch"),
        section("line", "Lines on the tree", "Where each goes to, from the ground under the butt.",
                "id member at kind anchor.forward anchor.right anchor.height limit pull", "line"),
        section("ground", "Ground", "Slope is + when it rises from butt to tip.", "surface slope bearing"),
        section("protect", "To protect", "What must not be hit.", "id kind near far left right height", "thing"),
    )  # fmt: skip


@cache
def work_sections() -> tuple[Section, ...]:
    """What may be handled, what is on the truck, and how far the plan may go."""
    return (
        section("handling", "Heaviest piece", "What the crew may take, each way.",
                "hand drop drop_height roll line crane", folded=True),
        section("crane", "Crane and its load chart",
                "A radius for all picks, or the spot the boom turns at. The chart as printed for the set-up used, a "
                "line for each radius under the heading radius_ft,capacity_lb (or radius_m, capacity_kg, capacity_t).",
                "radius at.forward at.right down.forward down.right hook slings stowed margin chart", folded=True),
        section("rigging", "Rope, block and slings", "For what is let down or lifted. Limits from tag and maker.",
                "rope rope_end rope_length fall run block block_angle wraps slings sling sling_angle hitch",
                folded=True),
        section("truck", "Timber on the truck", "For props and cribs.",
                "section length count species grade", "kind of timber", folded=True),
        section("limits", "Limits you set", "A plan stays inside these. More samples take longer and say it finer.",
                "building movement floor share until samples seed", folded=True),
        section("prop", "Props you will set", "The order has to count with them.", "id at jacked", "prop", folded=True),
        section("leave", "Wood left on", "Never taken, or not before a limb is off.", "member at until", "mark",
                folded=True),
        section("cut", "Cuts you want looked at", "Leave empty and they are found.", "member at", "cut", folded=True),
    )  # fmt: skip


@cache
def out_sections() -> tuple[Section, ...]:
    """The way out for the wood, and what takes it away."""
    return (
        section("access.leg", "The way out, stretch by stretch", "From where the wood lies to where it is loaded.",
                "surface length to.forward to.right width slope steps turn", "stretch"),
        section("access", "The ground", "How wet it is, what lies under it, and where the way begins.",
                "state soil pressure owner_told start.forward start.right cut_again splits"),
        section("access.gate", "Gates and passages", "The narrowest decides. Forward and right from the butt.",
                "id width height at.forward at.right", "gate"),
        section("access.no_go", "Keep off", "Septic, drain field, sprinklers, beds.", "id kind near far left right",
                "place"),
        section("machine", "What carries it", "In order of preference. Without one, everything goes by hand.",
                "name mass payload width runs_on wheels tyre_width tyre_diameter tyre_pressure contact wheel_load "
                "longest turning pushed count", "machine"),
        section("boards", "Boards on the truck", "For the soft part of the way.",
                "thickness count length width lap laid layers"),
        section("load", "What drives it away", "Payload from the plate. Left open, the tip fee is that of the rates.",
                "name payload volume length takes tip tip_by", "truck"),
        section("haul", "Chips and what stays", "Up to this thickness it is chipped.", "chipper stays"),
        section("day", "The working day", "Times as 07:30. Work off the ground stops at the gusts you set.",
                "start light_until crews people wind wind_limit", folded=True),
        section("day.forecast", "Gusts by the hour", "As forecast, for the hours they are known.",
                "day from to gusts", "forecast", folded=True),
        section("rates", "Times of the crew", "The whole crew: 8..15..30 min is shortest, usual, longest.",
                "set_up secure cut lower carry trip board load clean left_out", folded=True),
        section("rates.actual", "What earlier jobs took", "The times above learn from these, step by step.",
                "step planned took job on", "step", folded=True),
    )  # fmt: skip


@cache
def paper_sections() -> tuple[Section, ...]:
    """What only the papers need; every part may be left open, and the papers say so."""
    return (
        section("company", "The company", "Stands at the head of every paper.",
                "name address phone email licence insurance", folded=True),
        section("customer", "The customer", "Who orders the work. Left open, the owner.",
                "name address phone email insurer claim", folded=True),
        section("call", "What the caller said", "Asked in this order. Times as 05:40.",
                "at taken_by phone hurt inside wires gas water hit happened access told_at told_by", folded=True),
        section("terms", "What is agreed", "One line for each thing.",
                "scope excluded wood buried neighbour owns permits payment valid authorised_by authorised_on "
                "authorised_at invoice", folded=True),
        section("rates", "Rates", "Sums as 185.00, without a currency sign.",
                "currency crew_hour machine_hour crane_hour crane_least crane_fixed tip_load sheet tax ceiling",
                folded=True),
        section("rates.extra", "Other lines of the price",
                "What does not follow from the wood: a tarp, another tree, a stump, an offer.",
                "tag what quantity unit rate taken", "line", folded=True),
        section("lifting", "When something hangs", "For the lift plan.", "operator signals_by signals footing",
                folded=True),
        section("change", "Changes", "Each with a photograph and a signature before the changed work goes on.",
                "id what why photo hours price tag effect", "change", folded=True),
        section("log", "The day, line by line", "Times as 09:05. Ticks and what was seen are added by themselves.",
                "at on what by", "line", folded=True),
        section("worked", "Hours worked", "Of the whole crew, step by step: the invoice is made from these.",
                "step hours on", "step", folded=True),
        section("billed", "Other lines of the bill", "Machine, crane ticket, tip fees, tarp.",
                "tag what quantity unit rate", "line", folded=True),
        section("hand_over", "Hand-over", "What was done and what is still not made good, one to a line.",
                "done not_done left danger before ours cover at to notes", folded=True),
    )  # fmt: skip


def all_sections() -> tuple[Section, ...]:
    """Every section of every page."""
    lying = (*call_sections(), *measure_sections(), *work_sections(), *out_sections(), *paper_sections())
    return (*lying, *standing_sections())
