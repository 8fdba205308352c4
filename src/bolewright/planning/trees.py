"""The tree of a job: geometry and likely masses, the spread of what is not known, and what was filled in."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Sourced, Status
from bolewright.core.contact.samples import Spread
from bolewright.core.tree.spec import Hollow, Limb, Plate, Station, TreeSpec
from bolewright.core.wood import CrownAllowance, crown_allowance
from bolewright.job.model import Job
from bolewright.planning import defaults
from bolewright.planning.both import in_inches, in_us_density
from bolewright.planning.results import FilledIn
from bolewright.reference import Species, cite, crown_relation, find_species

BREAST_HEIGHT = 1.37
LB_PER_FT2 = 0.3048**2 / 0.45359237  # pounds on a square foot in a kilogram on a square metre


@dataclass(frozen=True)
class Grown:
    """What is known of the tree before anything touches it."""

    spec: TreeSpec
    spread: Spread
    species: Species
    density: Sourced[Range]
    filled: tuple[FilledIn, ...]


def grown(job: Job, split_at: tuple[tuple[str, float], ...] = ()) -> Grown:
    """The tree of a job, split into segments at the places asked for."""
    species = find_species(job.tree.species)
    filled: list[FilledIn] = []
    density = _density(job, species, filled)
    crown = _crown(job, species, filled)
    plate = _plate(job, filled)
    leafy, needled = _foliage(job, crown)
    spec = TreeSpec(
        stations=tuple(_stations(job)),
        limbs=tuple(_limb(job, i, filled) for i in range(len(job.tree.limb))),
        hollows=tuple(_hollow(d) for d in job.tree.decay),
        plate=plate,
        wood_density=density.value.likely,
        small_wood_per_area=crown.branch_per_area.likely,
        leaf_per_area=leafy,
        needle_per_area=needled,
        split_at=split_at,
    )
    return Grown(spec, _spread(job, density.value, crown), species, density, tuple(filled))


def _stations(job: Job) -> list[Station]:
    return [
        Station(
            at=s.at.likely,
            diameter=s.diameter.likely,
            height=s.height.likely if s.height is not None else None,
            offset=s.offset.likely if s.offset is not None else 0.0,
        )
        for s in job.tree.stem
    ]


def _limb(job: Job, index: int, filled: list[FilledIn]) -> Limb:
    limb = job.tree.limb[index]
    tip = limb.tip_diameter.likely if limb.tip_diameter is not None else defaults.TIP_SHARE * limb.diameter.likely
    if limb.tip_diameter is None:
        filled.append(
            FilledIn(
                f'tree.limb["{limb.id}"].tip_diameter',
                f"{tip * 1000:.0f} mm",
                "not measured: a quarter of the diameter at its base",
                "judgement",
                Status.COMMON_PRACTICE,
                in_inches(tip),
            )
        )
    return Limb(
        id=limb.id,
        on=limb.on,
        at=limb.at.likely,
        clock=float(limb.clock),
        angle_rad=limb.angle.likely,
        length=limb.length.likely,
        diameter=limb.diameter.likely,
        tip_diameter=tip,
        foliage=limb.foliage,
    )


def _hollow(decay: object) -> Hollow:
    shells = tuple((clock, depth.likely) for clock, depth in decay.shells)  # type: ignore[attr-defined]
    return Hollow(decay.member, decay.from_.likely, decay.to.likely, shells)  # type: ignore[attr-defined]


def _density(job: Job, species: Species, filled: list[FilledIn]) -> Sourced[Range]:
    given = job.tree.density
    if given is not None:
        low, high = given.low, given.high
        if low == high:
            low, high = 0.95 * low, 1.05 * high
        return Sourced(Range(low, given.likely, high), "entered with the job", Status.MEASURED)
    band = species.log_density
    filled.append(
        FilledIn(
            "tree.density",
            f"{band.value.likely:.0f} kg/m3 ({band.value.low:.0f} to {band.value.high:.0f})",
            f"green log with bark of {species.common_name}",
            cite(band.source).rstrip("."),
            band.status,
            in_us_density(band.value.low, band.value.likely, band.value.high),
        )
    )
    return band


def breast_diameter(job: Job) -> float:
    """Diameter at breast height: as entered, else read off the stations at 1.37 m from the butt."""
    if job.tree.dbh is not None:
        return job.tree.dbh.likely
    stations = sorted(job.tree.stem, key=lambda s: s.at.likely)
    for near, far in zip(stations, stations[1:], strict=False):
        if near.at.likely <= BREAST_HEIGHT <= far.at.likely:
            share = (BREAST_HEIGHT - near.at.likely) / max(far.at.likely - near.at.likely, 1e-9)
            return near.diameter.likely + share * (far.diameter.likely - near.diameter.likely)
    return stations[0].diameter.likely


def _crown(job: Job, species: Species, filled: list[FilledIn]) -> CrownAllowance:
    crown = crown_allowance(
        breast_diameter(job),
        crown_relation(species, breast_diameter(job)),
        species.kind,
        species.wood_moisture.value,
    )
    filled.append(
        FilledIn(
            "small wood and foliage",
            f"{crown.branch_per_area.likely:.0f} kg branch wood and {crown.foliage_per_area.likely:.0f} kg foliage"
            " per m2 of limb base",
            "what nobody measures: branches beyond the named limbs, twigs and leaves",
            cite(crown.source).rstrip("."),
            crown.status,
            f"{crown.branch_per_area.likely * LB_PER_FT2:.0f} lb branch wood and"
            f" {crown.foliage_per_area.likely * LB_PER_FT2:.0f} lb foliage per ft2 of limb base",
        )
    )
    return crown


def _foliage(job: Job, crown: CrownAllowance) -> tuple[float, float]:
    kinds = {limb.foliage for limb in job.tree.limb}
    rate = crown.foliage_per_area.likely
    return (rate if "leaf" in kinds else 0.0, rate if "needle" in kinds else 0.0)


def _plate(job: Job, filled: list[FilledIn]) -> Plate | None:
    plate = job.tree.root_plate
    if job.tree.attached != "root plate" or plate is None:
        return None
    soil = plate.soil or "loam"
    density = defaults.SOIL_DENSITY[soil]
    filled.append(
        FilledIn(
            "tree.root_plate.soil",
            f"{density:.0f} kg/m3 ({soil}, moist, with roots)",
            "density of the root plate, with a wide spread",
            "soil mechanics texts",
            Status.MEMORY,
            f"{in_us_density(density, density, density)} ({soil}, moist, with roots)",
        )
    )
    return Plate(plate.diameter.likely, plate.thickness.likely, density)


def _spread(job: Job, density: Range, crown: CrownAllowance) -> Spread:
    size = defaults.SIZE_SPREAD
    taped = [s.diameter for s in job.tree.stem]
    wide = [max(q.high / q.likely - 1.0, 1.0 - q.low / q.likely) for q in taped if q.has_spread]
    if wide:
        size = max(size, sum(wide) / len(taped))
    stiff = defaults.STIFFNESS_SPREAD
    return Spread(
        wood=_share(density),
        small_wood=_share(crown.branch_per_area),
        foliage=_share(crown.foliage_per_area),
        soil=Range(1.0 - defaults.SOIL_SPREAD, 1.0, 1.0 + defaults.SOIL_SPREAD),
        size=Range(1.0 / (1.0 + size), 1.0, 1.0 + size),
        stiffness=Range(math.exp(-stiff), 1.0, math.exp(stiff)),
    )


def _share(band: Range) -> Range:
    low = max(band.low, 0.05 * band.likely)
    return Range(low / band.likely, 1.0, band.high / band.likely)
