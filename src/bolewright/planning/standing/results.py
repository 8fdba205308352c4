"""What `stand` answers: frozen results that pages, papers, drawings and commands place and round, never compute.

SI throughout; directions are compass azimuths in degrees, clockwise from north. Gusts are 3-second gusts as a weather
station in open country shows them at 10 m. Every range is the 5, 50 and 95 % point of the samples.
"""

from __future__ import annotations

from dataclasses import dataclass

from bolewright.core.base.range import Range
from bolewright.planning.results import FilledIn
from bolewright.planning.standing.looked import LookBack, Looked, ReadTest
from bolewright.planning.standing.rated import FallArea, Judgement, TargetReach


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
    tests: tuple[ReadTest, ...]
    looked: tuple[Looked, ...]
    fall: FallArea
    targets: tuple[TargetReach, ...]
    judgement: Judgement
    look_back: LookBack | None
    filled_in: tuple[FilledIn, ...]
    notes: tuple[str, ...]
    seasons: tuple[SeasonAnswer, ...] = ()  # empty where they were not asked for
