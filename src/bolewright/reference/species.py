"""The species table: green density of a log with its bark, green strength, and where every number comes from."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal, cast

from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Sourced, Status
from bolewright.reference.tables import Row, sourced, table

Rank = Literal["species", "genus", "class"]
Kind = Literal["broadleaf", "conifer"]
MPA, GPA, PERCENT = 1e6, 1e9, 0.01


@dataclass(frozen=True)
class Species:
    """One row of the species table in SI. `source` of a value is one or more keys of sources.csv (see `cite`)."""

    common_name: str
    scientific_name: str
    rank: Rank  # a species, the average of a genus, or of all broadleaves or conifers
    kind: Kind
    crown_group: int  # group of the dry-mass relations, 1..10
    also: tuple[str, ...]  # other names it is found by
    specific_gravity: Sourced[float]  # [-] oven-dry mass over green volume, over 1000 kg/m3
    wood_moisture: Sourced[float]  # [-] water over oven-dry mass
    bark_share: Sourced[float]  # [-] bark volume over wood volume
    bark_specific_gravity: Sourced[float]  # [-]
    bark_moisture: Sourced[float]  # [-]
    heartwood_moisture: Sourced[float] | None  # [-]
    sapwood_moisture: Sourced[float] | None  # [-]
    green_wood_density: Sourced[float]  # [kg/m3] wood alone
    log_density: Sourced[Range]  # [kg/m3] wood and bark, per volume measured outside bark
    spread_rule: str  # row of density_spread.csv
    lightest_published: Sourced[float]  # [kg/m3] of the whole-log values compared
    heaviest_published: Sourced[float]  # [kg/m3]
    bending_strength: Sourced[float]  # [Pa] green modulus of rupture of small clear pieces, mean
    stiffness: Sourced[float]  # [Pa] green modulus of elasticity, mean
    compression_parallel: Sourced[float]  # [Pa] green, mean
    shear_parallel: Sourced[float]  # [Pa] green, mean
    note: str

    @property
    def genus(self) -> str:
        """First word of the scientific name."""
        return self.scientific_name.split()[0]


@cache
def all_species() -> tuple[Species, ...]:
    """Every row of the species table, species first, then genera, then the two classes of last resort."""
    return tuple(_species(row) for row in table("species.csv"))


def _species(row: Row) -> Species:
    return Species(
        common_name=row["common_name"],
        scientific_name=row["scientific_name"],
        rank=cast(Rank, row["rank"]),
        kind=cast(Kind, row["kind"]),
        crown_group=int(row["crown_group"]),
        also=tuple(name for name in row["also"].split("; ") if name),
        specific_gravity=sourced(row, "specific_gravity"),
        wood_moisture=sourced(row, "wood_moisture_percent", factor=PERCENT),
        bark_share=sourced(row, "bark_volume_percent_of_wood", factor=PERCENT),
        bark_specific_gravity=sourced(row, "bark_specific_gravity"),
        bark_moisture=sourced(row, "bark_moisture_percent", factor=PERCENT),
        heartwood_moisture=_moisture(row, "heartwood_moisture"),
        sapwood_moisture=_moisture(row, "sapwood_moisture"),
        green_wood_density=sourced(row, "green_wood_density_kg_m3", "green_wood_density"),
        log_density=_log_density(row),
        spread_rule=row["spread_rule"],
        lightest_published=_published(row, "lightest_published"),
        heaviest_published=_published(row, "heaviest_published"),
        bending_strength=sourced(row, "bending_strength_MPa", factor=MPA),
        stiffness=sourced(row, "stiffness_GPa", factor=GPA),
        compression_parallel=sourced(row, "compression_parallel_MPa", factor=MPA),
        shear_parallel=sourced(row, "shear_parallel_MPa", factor=MPA),
        note=row["note"],
    )


def _moisture(row: Row, name: str) -> Sourced[float] | None:
    if not row[f"{name}_percent"]:
        return None
    return sourced(row, f"{name}_percent", name, PERCENT)


def _log_density(row: Row) -> Sourced[Range]:
    low, likely, high = (float(row[f"log_density{part}_kg_m3"]) for part in ("_low", "", "_high"))
    return Sourced(Range(low, likely, high), row["log_density_source"], Status(row["log_density_status"]))


def _published(row: Row, name: str) -> Sourced[float]:
    """A compared value; it takes the row's own status where it is the row's own value, else it is derived."""
    source = row[f"{name}_source"]
    if "RECALLED" in source:
        status = Status.MEMORY
    elif source in ("NPS-STW", "OSU-OWIC"):
        status = Status.CONFIRMED
    elif source == "FPL-T4-1":
        status = Status.DERIVED
    else:
        status = Status(row["log_density_status"])
    return Sourced(float(row[f"{name}_kg_m3"]), source, status)
