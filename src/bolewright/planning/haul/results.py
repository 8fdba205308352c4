"""What getting the wood out answers: frozen, SI with the unit in the name, as papers and pages place it."""

from __future__ import annotations

from dataclasses import dataclass, field

from bolewright.core.base.range import Range
from bolewright.planning.passage.results import GateOut as GateOut
from bolewright.planning.passage.results import KeepOff as KeepOff
from bolewright.planning.passage.results import RouteOut as RouteOut
from bolewright.planning.passage.results import Spot as Spot
from bolewright.planning.passage.results import StretchOut as StretchOut
from bolewright.planning.results import FilledIn

NONE = Range.exact(0.0)
INSIDE, OUTSIDE = "inside the limits set", "outside the limits set"


@dataclass(frozen=True)
class PieceOut:
    """How one piece leaves: as it is, cut into parts, or chipped where it lies."""

    id: str
    member: str
    log_kg: Range  # the wood that is carried; 0 where all of it is chipped
    brush_kg: Range
    length_m: float
    diameter_m: float  # at its thick end
    way: str  # "by hand" | a machine's name | "chipped"
    parts: int  # how many it has to be cut into; 1 as it is
    split: bool  # whether rounds have to be split along the grain as well
    why: str
    rounds: int = 1  # lengths it is cut into before any of them is split


@dataclass(frozen=True)
class Shorter:
    """Said back to the cut order: where a piece has to be cut shorter to get out."""

    piece: str
    member: str
    at_m: tuple[float, ...]  # along the member from its base
    most_kg: float
    sentence: str


@dataclass(frozen=True)
class SheetPlace:
    """Where a sheet lies: along the way, across it, and on the site plan."""

    n: int  # of the place, counted from the tree
    sheet: int  # of the sheet that lies there first: one carried ahead keeps its number
    from_m: float
    to_m: float
    right_m: float  # across, + to the left of the way
    left_m: float
    corners: tuple[Spot, ...]  # empty where the way has no points
    turning: bool = False  # beside the way, to turn on


@dataclass(frozen=True)
class BoardsOut:
    """Boards for the soft part of the way."""

    needed: int
    have: int
    lanes: int
    crosswise: bool
    moves: int  # sheets carried ahead over all passes when there are too few
    workable: bool
    stops: str  # what gives first as the load grows
    most_load_kg: Range  # on the machine, when it stops
    bending: Range  # over what is allowed for a short load on wet sheets
    words: str
    practice: str  # the trade's rule with where it stops, where it applies
    mark: str
    places: tuple[SheetPlace, ...] = ()
    layers: int = 1  # sheets on top of each other at every place
    down: int = 0  # sheets that lie at the same time
    length_m: float = 0.0  # of one sheet
    width_m: float = 0.0
    by_state: tuple[tuple[str, Range], ...] = ()  # state of the lawn, most load on the machine [kg]


@dataclass(frozen=True)
class GroundOut:
    """What the lawn gets."""

    surface: str
    state: str
    bare_kPa: Range
    boards_kPa: Range | None
    limit_kPa: float
    limit_source: str
    limit_status: str
    bare_rut_m: Range
    boards_dent_m: Range | None  # the sag under the boards, which comes back on firm ground
    wheel_N: Range = field(default=NONE)  # heaviest wheel or track with the heaviest trip; 0 on foot
    passes: int = 0  # one way, over the same track


@dataclass(frozen=True)
class PushOut:
    """What it takes to push the heaviest load, against a published filter for one person."""

    force_N: Range
    limit_N: float
    people: int
    words: str
    source: str
    holding_N: Range = field(default=NONE)  # to hold the heaviest load back on the steepest descent


@dataclass(frozen=True)
class Geared:
    """A pull through a pulley system: what is left of it at the hand or winch."""

    system: str  # "3 to 1"
    advantage: float  # what it gains with the friction of its pulleys
    pull_N: Range
    source: str
    status: str


@dataclass(frozen=True)
class DragOut:
    """Pull along the ground that drags the heaviest piece whole, at a steady pace; starting takes more."""

    piece: str
    pull_N: Range
    source: str
    status: str
    geared: tuple[Geared, ...] = ()
    rolled_up_N: Range = field(default=NONE)  # to roll it up planks of 20 degrees, the rope passed under it and back


@dataclass(frozen=True)
class Amounts:
    """What there is to do of each kind, before times are set against it."""

    places: int  # to prop, crib or tie
    pieces: int
    cut_min: float  # minutes the plan gives for its cuts that are not let down or lifted
    cuts: int  # cuts for which no plan gives a time
    lowered: int  # pieces let down on a line or lifted
    ground_cuts: int  # where wood is cut again where it lies
    splits: int
    trips: int
    carries: int
    way_m: float  # there and back
    sheets: int
    sheets_moved: int
    loads: int


@dataclass(frozen=True)
class StepHours:
    """Hours of the whole crew for one kind of work; likely first, ends added up."""

    step: str  # set-up | secure | cut | lower | move | load | clean
    hours: Range
    why: str
    learnt: float = 1.0  # factor from the company's own record, already in


@dataclass(frozen=True)
class Task:
    """A job of work that one crew does in one go, a part of a step's hours."""

    id: str
    step: str  # as in StepHours
    what: str  # "cut S3", "move S3 and L2"
    hours: Range
    after: tuple[str, ...] = ()  # ids of tasks that have to be over
    machine: str = ""  # what it needs beside the crew; "crane" for the crane
    off_ground: bool = False  # stopped by wind
    in_one_go: bool = False  # not begun when dark or wind would cut it off


@dataclass(frozen=True)
class Material:
    """Everything of one kind, and whether it stays."""

    kind: str  # logs | chips | brush
    mass_kg: Range
    room_m3: Range
    stays: bool
    source: str
    status: str

    @property
    def bulk_kg_m3(self) -> float:
        """Likely mass for the likely room it takes, where it takes any."""
        return self.mass_kg.likely / self.room_m3.likely if self.room_m3.likely > 0.0 else 0.0


@dataclass(frozen=True)
class LoadOut:
    """One load to be driven away, at its heaviest."""

    carrier: str
    kind: str
    items: tuple[str, ...]
    mass_kg: float
    room_m3: float


@dataclass(frozen=True)
class Tipped:
    """What one truck takes away of one kind, for the tip fee."""

    carrier: str
    kind: str
    loads: Range
    mass_kg: Range
    room_m3: Range


@dataclass(frozen=True)
class PickOut:
    """A piece on the hook against the chart the user typed in."""

    piece: str
    mass_kg: Range
    gross_kg: float
    net_kg: float
    radius_m: float
    margin: float
    inside: bool
    words: str


@dataclass(frozen=True)
class Held:
    """One part of the gear under one piece: what it gets against its limit, None where none was given."""

    part: str  # line | block | hand on the line | sling leg
    force_N: Range
    limit_N: float | None
    words: str  # "inside the limit" | "outside the limit" | ...
    source: str
    status: str


@dataclass(frozen=True)
class LiftOut:
    """A piece that is let down or lifted, with every part of the gear."""

    piece: str
    method: str
    mass_kg: Range
    held: tuple[Held, ...]


@dataclass(frozen=True)
class OutResult:
    """Getting the wood out, from the same pieces as the cut order."""

    status: str  # INSIDE | OUTSIDE
    outside: tuple[str, ...]  # what is outside, one sentence each
    machine: str  # the one that takes most, "by hand" without one
    sheets: int
    trips: int  # of machines; of hands with a log where there is no machine
    carries: int  # by hand, brush included
    heaviest_kg: Range  # heaviest single part that is moved
    pressure_kPa: Range  # on the lawn, as planned
    hours: Range
    route: RouteOut
    pieces: tuple[PieceOut, ...]
    shorter: tuple[Shorter, ...]
    boards: BoardsOut | None
    ground: GroundOut | None
    push: PushOut | None
    drag: DragOut | None
    picks: tuple[PickOut, ...]
    lifts: tuple[LiftOut, ...]
    materials: tuple[Material, ...]
    loads: tuple[LoadOut, ...]
    load_count: Range  # loads at the lightest, likely and heaviest
    steps: tuple[StepHours, ...]
    to_do: Amounts
    notes: tuple[str, ...] = ()
    filled_in: tuple[FilledIn, ...] = field(default=())
    tipped: tuple[Tipped, ...] = ()
    crane_hours: Range = field(default=NONE)  # from its first pick to its last, waiting between them counted
    cut_again: bool = True  # whether wood may be cut again where it lands
    crane_at: Spot | None = None
    crane_down: Spot | None = None
    tasks: tuple[Task, ...] = ()  # the same hours in single jobs of work with what has to come before
