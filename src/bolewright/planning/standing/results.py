"""What `stand` answers: frozen results that pages, papers, drawings and commands place and round, never compute.

SI throughout; directions are compass azimuths in degrees, clockwise from north. Gusts are 3-second gusts as a weather
station in open country shows them at 10 m. Every range is the 5, 50 and 95 % point of the samples.
"""

from __future__ import annotations

from dataclasses import dataclass

from bolewright.core.base.range import Range
from bolewright.planning.results import FilledIn


@dataclass(frozen=True)
class RuleBeside:
    """A published rule of thumb beside the computed section."""

    name: str
    value: float
    limit: float
    within: bool
    applies: bool  # the rule is for sections like this one
    source: str


@dataclass(frozen=True)
class LossBeside:
    """A one-line loss formula beside the computed loss; error minus means too hopeful."""

    name: str
    source: str
    loss: float
    error: float


@dataclass(frozen=True)
class StandSection:
    """One place along the stem."""

    id: str
    height_m: float
    at_m: float  # along the stem from the ground
    diameter_m: float  # of the wood, bark off
    loss_of_strength: float  # in the weakest direction, against the same place sound
    loss_of_area: float
    loss_range: Range  # of strength, over the error of the depths of sound wood
    area_m2: float  # of wood left
    modulus_m3: float  # about its worst axis
    weakest_deg: float | None  # a push towards here, or the opposite way, finds it weakest; None where sound
    gust_m_s: Range  # that breaks it, from the worst direction
    margin: Range  # strength over stress at the design gust
    measured: bool  # a test or a decay entry of this very place
    shell: tuple[tuple[float, float], ...]  # (compass direction, depth of sound wood) where measured
    opening_m: float
    outline: tuple[tuple[float, float], ...]  # looking down, (east, north) of the middle of the outline
    void: tuple[tuple[float, float], ...]
    formulas: tuple[LossBeside, ...]
    rules: tuple[RuleBeside, ...]
    wall: str  # how a closed hollow of this wall gives way; "" where sound or open
    note: str


@dataclass(frozen=True)
class UnionSeen:
    """A union as looked at, and the share of the limb's bending strength it keeps."""

    form: str  # "branch" | "codominant"
    form_told: bool  # written down; else told from the diameters
    bark: str  # "none" | "included" | "partly grown over" | "not known"
    split_m: float | None  # width of an open crack; None where nobody looked
    aspect: float  # thickness over that of what it grows on
    kept: Range
    source: str
    status: str
    note: str
    photo: tuple[str, ...]


@dataclass(frozen=True)
class LimbStand:
    """A named limb or codominant stem: own weight and wind against its wood and its union."""

    id: str
    on: str
    height_m: float  # of the union
    towards_deg: float  # compass direction from union to tip
    base_m: tuple[float, float]  # of the union, (east, north) of the foot
    tip_m: tuple[float, float]
    tip_height_m: float
    length_m: float
    diameter_m: float  # outside the union, bark included
    union: UnionSeen
    mass_kg: Range  # with all it carries
    own_share: Range  # of what the union holds, taken by own weight without wind
    gust_m_s: Range  # that breaks it, from its worst direction
    margin: Range  # strength over stress at the design gust
    share_standing: float  # share of samples that stand the design gust
    worst_towards_deg: float
    breaks_at_m: float  # along the limb from the middle of what it grows on
    breaks: str  # "at its union" | "along the limb"
    status: str  # "inside" | "outside" | "not enough known"
    over: tuple[str, ...]  # ids of targets it would come down on


@dataclass(frozen=True)
class Anchorage:
    """What the roots hold against what the tree asks of them."""

    capacity_Nm: Range
    moment_Nm: Range  # at the design gust, own weight included
    own_weight_Nm: float  # part of it from weight off the plumb, likely
    margin: Range
    gust_m_s: Range
    loss: Range  # share taken off for lost roots
    plate_Nm: float | None  # cross-check from the weight of the root plate
    measured: bool  # from a pull test of this tree
    source: str
    status: str


@dataclass(frozen=True)
class FragilityCurve:
    """Share of samples that fail at a gust. Not a chance per year: how often such a gust comes is not in it."""

    gust_m_s: tuple[float, ...]
    share: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]


@dataclass(frozen=True)
class Narrows:
    """One unknown, how far it alone moves the failing gust, and what would measure it."""

    name: str
    measure: str
    gust_low_m_s: float
    gust_high_m_s: float
    share: float
    measurable: bool  # something on site can measure it
    then_m_s: Range | None  # gust to fail if it turned out at its likely value; for the few worth most


@dataclass(frozen=True)
class Sheltered:
    """What neighbours do, or did, to the wind this tree gets."""

    neighbours: str  # "standing" | "lost"
    taken: Range  # share of the wind's speed they take, or took
    given: bool  # written down; else common practice
    gust_m_s: Range  # at which the tree fails in their shelter, as a station in the open reads it
    words: str


@dataclass(frozen=True)
class SeasonAnswer:
    """The tree in one season."""

    season: str
    judged: bool  # the season written in the record
    gust_m_s: Range  # at which stem or roots fail first, from the worst direction
    limb: str  # the limb that its own weight takes most of; "" without limbs
    limb_share: Range | None  # of what that limb holds, taken by own weight (and ice) without any wind


@dataclass(frozen=True)
class TraceRun:
    """A run of steady resistance along a trace."""

    start_m: float
    end_m: float
    mean: float
    sound: bool


@dataclass(frozen=True)
class TraceRead:
    """A drilling-resistance trace as read; resistance in its own unit."""

    points: tuple[tuple[float, float], ...]  # depth from the bark [m], resistance
    runs: tuple[TraceRun, ...]
    reference: float  # mean of the sound outer wood
    falls: Range  # share of it below which a run is decayed: the likely one and those tried for the range
    shell_m: Range
    met_decay: bool
    drilled_m: float


@dataclass(frozen=True)
class TestRead:
    """A test and what was read from it."""

    id: str
    kind: str
    height_m: float | None
    side_deg: float | None
    words: str
    shell_m: Range | None
    photo: tuple[str, ...]
    trace: TraceRead | None = None  # of a drilling with a trace


@dataclass(frozen=True)
class Looked:
    """What was looked for in one group."""

    group: str
    seen: tuple[str, ...]
    not_seen: tuple[str, ...]
    could_not_see: tuple[str, ...]
    not_recorded: tuple[str, ...]  # offered, and not written down either way


@dataclass(frozen=True)
class TargetReach:
    """A target and how it lies to a fall."""

    id: str
    what: str
    distance_m: float
    towards_deg: float
    reach: str
    occupancy: str
    protection: str
    movable: bool
    height_m: float | None
    parts: tuple[str, ...]  # what would come down on it: "whole tree", ids of limbs


@dataclass(frozen=True)
class FallArea:
    """Fall circle and sectors round the foot."""

    radius_m: float
    crown_radius_m: float
    sectors_deg: tuple[float, ...]  # middles
    sector_names: tuple[str, ...]  # why each: "worst wind", "wind named", "lean"
    half_angle_deg: float
    look_m: float  # within which targets are looked for


@dataclass(frozen=True)
class PairRated:
    """One part and the target it could hit, as chosen, and what the two published tables make of it."""

    id: str  # "" for the pair written in [rating] itself
    part: str
    target: str
    failure: str | None
    impact: str | None
    consequences: str | None
    combined: str | None
    rating: str | None
    worst: bool  # no pair is rated worse
    why: str


@dataclass(frozen=True)
class OptionAfter:
    """One option, the gust the tree or the limb stands after it, and what the assessor chose for what is left."""

    id: str
    kind: str
    by: float | None
    part: str  # limb it is done to; "" for the tree
    gust_m_s: Range | None  # that breaks the tree (or the limb) after it; None where nothing is computed
    share_standing: float | None  # of the samples, at the design gust
    support_N: Range | None  # that a prop or brace carries at the design gust
    support_at_m: float | None  # along the limb
    targets_left: tuple[str, ...]  # ids still within reach of a fall
    failure: str | None
    impact: str | None
    consequences: str | None
    combined: str | None
    rating: str | None
    reinspect: str  # "" where no day was named
    words: str
    note: str
    pairs: tuple[PairRated, ...] = ()  # what is left of every pair, as chosen; all of them, chosen or not
    worst: str | None = None  # the worst rating left; None where none was chosen


@dataclass(frozen=True)
class Judgement:
    """The assessor's choices and what the two published tables make of them. None where a choice is missing."""

    part: str
    target: str
    failure: str | None
    impact: str | None
    consequences: str | None
    combined: str | None
    rating: str | None
    time_frame: str
    reinspect: str
    why: str
    options: tuple[OptionAfter, ...]
    source: str
    pairs: tuple[PairRated, ...] = ()  # that of [rating] itself first, where anything of it was chosen
    worst: str | None = None  # the worst rating of all pairs; None where none can be combined


@dataclass(frozen=True)
class WouldHaveShown:
    """What drill holes at the break, made before, would have shown."""

    sides_deg: tuple[float, ...]
    depths_m: tuple[float, ...]
    loss: float
    thinnest_share: float
    over_shell_rule: bool
    over_loss_rule: bool


@dataclass(frozen=True)
class Exhibited:
    """One piece of evidence, as written."""

    what: str
    kind: str
    kept: str
    note: str
    photo: tuple[str, ...]


@dataclass(frozen=True)
class LookBack:
    """After a failure: measurement and opinion kept apart."""

    kind: str
    height_m: float | None
    needed_m_s: Range  # gust that the measured section or roots needed
    needed_sound_m_s: Range  # the same if sound
    limb: str  # id of the limb that gave way; "" where none was named
    roots_lost: float | None  # share of the root section that was rotten or cut before, as measured root by root
    recorded_m_s: float | None
    answer: str
    loss_of_strength: float | None
    would_have_shown: tuple[WouldHaveShown, ...]
    words: str
    station: str
    evidence: tuple[str, ...]
    opinion: str
    exhibits: tuple[Exhibited, ...] = ()
    photo: tuple[str, ...] = ()  # of the break


@dataclass(frozen=True)
class StandResult:
    """A standing tree: how far it is from failing, where first, and what is not known."""

    status: str  # "inside" | "outside" | "not enough known"
    words: str
    design_gust_m_s: float
    design_gust_why: str
    share_standing: float  # share of samples that stand the design gust
    gust_m_s: Range  # at which the tree first fails, stem or roots
    breaks_first: str
    breaks_first_height_m: float
    worst_towards_deg: float  # wind blowing this way is worst
    stem_gust_m_s: Range
    sections: tuple[StandSection, ...]
    roots: Anchorage
    limbs: tuple[LimbStand, ...]
    wind_towards_deg: float | None  # the wind named in the job
    wind_gust_m_s: Range | None  # gust to fail from there
    fragility: FragilityCurve
    narrows: tuple[Narrows, ...]
    shelter: Sheltered | None  # None without neighbours
    mass_kg: Range  # of all that stands
    sail_m2: float  # outline of the crown
    height_m: float
    tests: tuple[TestRead, ...]
    looked: tuple[Looked, ...]
    fall: FallArea
    targets: tuple[TargetReach, ...]
    judgement: Judgement
    look_back: LookBack | None
    filled_in: tuple[FilledIn, ...]
    notes: tuple[str, ...]
    seasons: tuple[SeasonAnswer, ...] = ()  # empty where they were not asked for
