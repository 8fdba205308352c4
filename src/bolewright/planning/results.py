"""What the use cases answer: frozen results that pages, papers and commands place and round, never compute.

SI throughout: metres, kilograms, newtons, joules, seconds. Points are (x, y, z) in the job frame of
`core.base.vectors`. Every range is the 5, 50 and 95 % point of the samples.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from bolewright.core.base.range import Range
from bolewright.planning.shapes import Point


@dataclass(frozen=True)
class FilledIn:
    """A value the job did not give, and what was used instead."""

    path: str
    value: str
    why: str
    source: str
    status: str  # a core.base.sourced.Status word
    us: str = ""  # the same value in US units; "" where it has none or was written so in the job

    def said(self, units: str) -> str:
        """The value in the units asked for."""
        return self.us if units == "us" and self.us else self.value


@dataclass(frozen=True)
class PieceWeight:
    """One piece of the tree as it would come off, without what it carries."""

    id: str
    member: str
    start_m: float
    end_m: float
    diameter_start_m: float
    diameter_end_m: float
    wood_kg: Range
    small_wood_kg: Range
    foliage_kg: Range
    mass_kg: Range
    centre_m: Point


@dataclass(frozen=True)
class WeighResult:
    """What the tree weighs."""

    total_kg: Range
    pieces: tuple[PieceWeight, ...]
    plate_kg: Range | None
    density_kg_m3: Range
    species: str
    density_source: str
    density_status: str
    filled_in: tuple[FilledIn, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class SupportForce:
    """What one support carries. `force_N` is along `direction` (on the tree)."""

    id: str
    kind: str
    member: str
    at_m: float
    point: Point
    direction: Point
    force_N: Range
    cannot_exceed_N: float  # hard bound over every equilibrium; inf when nothing bounds it
    full_force_N: float | None  # with tilted normals and friction, likely values; None when that has no answer
    on_building: bool
    gap_m: Range | None  # how far the wood is from it now; None when touching
    state: str  # "carries" | "touches, carries nothing" | "not touching"
    limit_N: float | None = None
    note: str = ""


@dataclass(frozen=True)
class Motion:
    """A movement of a body in words and as numbers."""

    words: str  # "butt drops", "rolls to the right", "held", ...
    kind: str  # held | drops | tips | rolls | slides | turns
    slide: Point  # translation direction or amount of the centre of mass
    turn: Point  # rotation vector
    distance_m: float | None  # how far until it rests; None when unknown
    rests_on: str  # what catches it, "" when nothing was found


@dataclass(frozen=True)
class Margins:
    """How far from tipping, rolling and sliding: distances the centre of mass may shift, and a friction ratio."""

    tipping_m: float
    tipping_towards: str
    rolling_m: float
    rolling_towards: str
    friction_needed: float | None
    friction_low: float
    sliding_ratio: float | None  # friction_low / friction_needed; below 1 it can slide
    note: str = ""


@dataclass(frozen=True)
class PieceRole:
    """What a piece does for the tree: prop, counterweight, ballast or idle."""

    id: str
    role: str
    building_change_N: Range  # change of the load on the building if this piece (and what it carries) were gone
    why: str


@dataclass(frozen=True)
class PlateOutcome:
    """What the root plate with a stub does once the stem is cut off, against stub length."""

    stub_m: float
    outcome: str  # "stands up" | "stays" | "falls forward" | "not enough is known"
    moment_Nm: Range  # about the hinge line, + stands up
    share: dict[str, float]  # outcome -> share of samples


@dataclass(frozen=True)
class Learnt:
    """One reading beside what was foreseen for it, and what is foreseen now that all readings count. In N, m or kg."""

    on: str
    kind: str  # force | settled | mass | feel (force at the support)
    after_steps: int
    said: str
    read: Range | None  # None for a feel
    foreseen: Range
    now: Range


@dataclass(frozen=True)
class HoldResult:
    """What holds the tree up, as found."""

    status: str  # held | not held | can roll | can slide
    supports: tuple[SupportForce, ...]
    pieces: tuple[PieceRole, ...]
    total_N: Range
    building_N: Range
    margins: Margins | None
    motion: Motion | None
    plate: tuple[PlateOutcome, ...]
    residual: float  # of equilibrium, relative to weight
    samples: int
    notes: tuple[str, ...]
    filled_in: tuple[FilledIn, ...]
    gone: tuple[str, ...] = ()  # pieces that are off by now; everything above is of what is left
    learnt: tuple[Learnt, ...] = ()


@dataclass(frozen=True)
class Bind:
    """What the section does to the saw."""

    kind: str  # top bind | bottom bind | side bind | end bind | twist | no bind
    compression_clock: float  # hours, the side in compression
    moment_Nm: Range
    axial_N: Range  # + tension
    shear_N: Range
    torsion_Nm: Range
    stress_share: Range  # bending stress over green bending strength
    start_clock: float  # which side the saw starts
    start_depth_m: float  # how deep, at most
    finish_clock: float
    kerf_mm: Range  # change of kerf width at the compression side when severed; - closes, + opens
    release_J: Range
    spring_pole: bool
    words: str


@dataclass(frozen=True)
class Place:
    """A prop, line or lift to put in place, and how it was checked."""

    id: str
    kind: str  # prop | crib | chock | tie-back | crane
    member: str
    at_m: float
    point: Point
    foot: Point
    timber: str  # "4x4, 7 ft 3 in, from the truck" or "round wood 9 in, cut from L4"
    force_N: Range  # largest it carries over the plan
    capacity_N: float
    checks: tuple[tuple[str, float, float, str], ...]  # name, demand, capacity [N], source
    tightness: str  # "snug" | "jacked to ..."
    why: str
    jacked_N: float = 0.0


@dataclass(frozen=True)
class CutStep:
    """One action of the plan with what is known before and after it."""

    n: int
    action: str  # "place" | "cut" | "remove"
    method: str  # "free drop" | "carry" | "roll off" | "lower on a line" | "crane pick" | ""
    piece: str  # id of the piece at the cut; the prop id for place and remove
    takes: tuple[str, ...]  # ids of all pieces that leave with it
    member: str
    at_m: float
    point: Point  # of the cut
    diameter_m: float
    mass_kg: Range
    piece_centre_m: Point
    bind: Bind | None
    forces_before: dict[str, Range]
    forces_after: dict[str, Range]
    building_before_N: Range
    building_after_N: Range
    building_peak_N: Range  # during the step, sudden release counted
    stays: Motion  # of what stays
    leaves: Motion  # of what is cut off
    drop_zone: tuple[Point, ...]  # plan polygon people must be out of
    stand: str  # where the sawyer stands
    why: str
    watch: tuple[str, ...]
    stop: tuple[str, ...]
    minutes: float
    recheck: str = ""  # the second formulation's word on the state after this step


@dataclass(frozen=True)
class Plan:
    """One order of work."""

    title: str  # "by hand" | "with props" | "with crane"
    status: str  # plan | no plan
    places: tuple[Place, ...]
    steps: tuple[CutStep, ...]
    start_building_N: Range
    peak_building_N: Range
    minutes: float
    exceedance_N: float
    gear: tuple[str, ...]
    summary: str
    dead_end: str = ""
    opens: tuple[str, ...] = ()


@dataclass(frozen=True)
class NextCut:
    """One row of the table of every cut possible now. why: the way out, or what stands against it."""

    piece: str
    takes: tuple[str, ...]
    mass_kg: Range
    building_change_N: Range
    allowed: bool
    why: str
    member: str = ""
    at_m: float = 0.0
    bind: Bind | None = None
    held_share: float = 1.0  # of the samples in which what stays is held
    margins_m: tuple[float, float] | None = None  # tipping and rolling of what stays; None when that cannot be said


@dataclass(frozen=True)
class CutsResult:
    """The chosen plan, the alternatives beside it and the table of what each first cut would do."""

    status: str  # plan | no plan
    chosen: Plan
    alternatives: tuple[Plan, ...]
    next_cuts: tuple[NextCut, ...]
    samples: int
    states_seen: int
    rechecked: str
    notes: tuple[str, ...] = ()
    filled_in: tuple[FilledIn, ...] = field(default=())
