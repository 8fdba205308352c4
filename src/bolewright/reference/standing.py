"""Published tables for standing trees: crown drag, turning moments, wind against damage."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import Literal

from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Sourced, Status
from bolewright.reference.tables import table

KM_H = 1.0 / 3.6
# A large crown is stiffer than the juvenile ones in the tunnel: the bands reach above them (common practice).
BROADLEAF_DRAG = Range(0.15, 0.20, 0.30)
CONIFER_DRAG = Range(0.22, 0.35, 0.50)
ONE_SPECIES = 1.25  # spread of a number measured on the tree's own species, each way (common practice)
WITHIN_SPECIES = 1.6  # of a single tree about its species' turning line
ANY_GROUND = Range(55.0, 109.0, 200.0)  # N m/kg: the four slopes widened by what a single tree and its soil do


@dataclass(frozen=True)
class DragRow:
    """A crown in the wind tunnel: share of frontal area left at 20 m/s, drag number there on the still-air area [-]."""

    species: str
    kind: str
    area_left: float | None
    drag_low: float
    drag_high: float
    source: str
    status: Status


@dataclass(frozen=True)
class TurningRow:
    """Critical turning moment per stem mass [N m/kg]."""

    species: str
    slope: float
    source: str
    status: Status


@dataclass(frozen=True)
class DamageRow:
    """A degree of damage and the 3-second gusts [m/s] at which it is expected, and its lower and upper bound."""

    degree: int
    damage: str
    gust: Range
    source: str
    status: Status


@dataclass(frozen=True)
class UnionRow:
    """What a union of this form, or with bark like this, keeps of the strength of the limb [-]."""

    name: str
    kept: Range
    source: str
    status: Status


@cache
def union_table() -> dict[tuple[str, str], UnionRow]:
    """Rows by ("form", name) and ("bark", name)."""
    return {
        (row["kind"], row["name"]): UnionRow(
            row["name"],
            Range(*(float(row[name]) for name in ("low", "likely", "high"))),
            row["source"],
            Status(row["status"]),
        )
        for row in table("unions.csv")
    }


@cache
def drag_table() -> tuple[DragRow, ...]:
    """The tunnel tests and the one model value."""
    return tuple(
        DragRow(
            row["species"],
            row["kind"],
            float(row["area_left_at_20"]) if row["area_left_at_20"] else None,
            float(row["drag_low"]),
            float(row["drag_high"]),
            row["source"],
            Status(row["status"]),
        )
        for row in table("crown_drag.csv")
    )


@cache
def anchorage_table() -> tuple[TurningRow, ...]:
    """The pulled conifers."""
    return tuple(
        TurningRow(row["species"], float(row["slope_N_m_per_kg"]), row["source"], Status(row["status"]))
        for row in table("turning_moments.csv")
    )


@cache
def damage_table() -> tuple[DamageRow, ...]:
    """Degrees of damage to trees, mildest first."""
    return tuple(
        DamageRow(
            int(row["degree"]),
            row["damage"],
            Range(*(float(row[f"{name}_km_h"]) * KM_H for name in ("lower", "expected", "upper"))),
            row["source"],
            Status(row["status"]),
        )
        for row in table("wind_damage.csv")
    )


def drag_for(scientific_name: str, kind: Literal["broadleaf", "conifer"]) -> Sourced[Range]:
    """Drag number at 20 m/s on the still-air area [-]: of the species where tested, else the band of its kind."""
    for row in drag_table():
        if row.species == scientific_name and row.drag_low == row.drag_high:
            number = row.drag_low
            return Sourced(Range(number / ONE_SPECIES, number, number * ONE_SPECIES), row.source, row.status)
    rows = [row for row in drag_table() if row.kind == kind]
    source = " ".join(dict.fromkeys(row.source for row in rows))
    wider = " Widened upward for large crowns by common practice."
    return Sourced(CONIFER_DRAG if kind == "conifer" else BROADLEAF_DRAG, source + wider, Status.ESTIMATE)


def union_for(form: str, bark: str | None) -> Sourced[Range]:
    """Share of a limb's bending strength [-] that its union keeps, the two tables together; with the bark not known,
    anything from included to none."""
    rows = union_table()
    parts = [rows["form", form], rows["bark", bark or "none"]]
    likely = math.prod(row.kept.likely for row in parts)
    down = math.hypot(*(math.log(row.kept.likely / row.kept.low) for row in parts))
    up = math.hypot(*(math.log(row.kept.high / row.kept.likely) for row in parts))
    band = Range(likely * math.exp(-down), likely, likely * math.exp(up))
    source = "; ".join(row.source for row in parts if row.name != "none")
    if bark is None:
        worse = union_for(form, "included").value
        return Sourced(Range(worse.low, band.likely, band.high), f"{source}; bark in it not known", parts[0].status)
    return Sourced(band, source, Status.ESTIMATE if bark != "none" else parts[0].status)


def anchorage_for(scientific_name: str) -> Sourced[Range]:
    """Turning moment per stem mass [N m/kg]: the species' own line where it was pulled, else the band over all."""
    for row in anchorage_table():
        if row.species == scientific_name:
            band = Range(row.slope / WITHIN_SPECIES, row.slope, row.slope * WITHIN_SPECIES)
            return Sourced(band, row.source, row.status)
    source = anchorage_table()[0].source + " Four conifers; for any other tree it gives the scale and no more."
    return Sourced(ANY_GROUND, source, Status.ESTIMATE)
