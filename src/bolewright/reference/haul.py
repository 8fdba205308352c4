"""Haul tables: bulk densities, debris factors, road limits and typical payloads, each with source and status."""

from __future__ import annotations

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Sourced, Status
from bolewright.core.ground.haul import CUBIC_YARD, POUND
from bolewright.reference.tables import Row, table

PER_YARD = POUND / CUBIC_YARD


def bulk_density(material: str) -> Sourced[float]:
    """One published bulk density [kg/m3]. Raises BadInput."""
    row = _row("bulk_density.csv", "material", material)
    return Sourced(float(row["density_lb_cy"]) * PER_YARD, row["source"], Status(row["status"]))


def bulk_range(kind: str) -> Sourced[Range]:
    """Bulk density of chips or brush as a range [kg/m3]: published values spread by a factor of two and more."""
    row = _row("bulk_ranges.csv", "kind", kind)
    ends = (float(row[f"{end}_lb_cy"]) * PER_YARD for end in ("low", "likely", "high"))
    return Sourced(Range(*ends), row["source"], Status(row["status"]))


def vehicle_mass(what: str) -> Sourced[float]:
    """A road limit or typical payload [kg]. Raises BadInput."""
    row = _row("vehicles.csv", "what", what)
    return Sourced(float(row["value_lb"]) * POUND, row["source"], Status(row["status"]))


def debris_factor(what: str) -> Sourced[float]:
    """A debris planning factor in the table's own unit. Raises BadInput."""
    row = _row("debris_factors.csv", "what", what)
    return Sourced(float(row["value"]), row["source"], Status(row["status"]))


def roof_value(what: str) -> Sourced[float]:
    """A roof load or material weight in the table's own unit (psf, pcf, lb). Raises BadInput."""
    row = _row("roof_loads.csv", "what", what)
    return Sourced(float(row["value"]), row["source"], Status(row["status"]))


def _row(name: str, column: str, wanted: str) -> Row:
    rows = table(name)
    for row in rows:
        if row[column] == wanted:
            return row
    raise BadInput(f'"{wanted}" is not in the table; it holds {", ".join(row[column] for row in rows)}.')
