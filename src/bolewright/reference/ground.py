"""Ground tables: sheets, soils, lawns and what they may be pressed, each with source and status."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Sourced, Status
from bolewright.core.ground.panels import FOOT, INCH, POUND, Panel
from bolewright.core.ground.ruts import cone_index
from bolewright.core.ground.subgrade import PCI, subgrade_faa, subgrade_pca
from bolewright.core.ground.workable import Lawn
from bolewright.reference.tables import Row, table

PSF = POUND / FOOT**2
SOIL_CLASSES = {"clay": "CL", "loam": "ML", "sand": "SM"}
CLOSE_ENOUGH = 0.0003  # m: 18 mm counts as 23/32 in


@dataclass(frozen=True)
class LawnState:
    """A lawn state with all that goes with it: cone index [N/m2] and the exponents for later passes."""

    lawn: Lawn
    words: str
    cone: Range
    exponents: tuple[float, float]
    source: str
    status: Status
    pressure_source: str  # of the limit, which is recalled, not looked up


def _inches(text: str) -> float:
    whole, _, part = text.partition("-")
    pieces = [whole, part] if part else [whole]
    return sum(float(p.split("/")[0]) / float(p.split("/")[1]) if "/" in p else float(p) for p in pieces) * INCH


def panel_of(thickness: float) -> Sourced[Panel]:
    """The sheet of a thickness [m]: the thickest listed that is not thicker. Raises BadInput below the thinnest."""
    found = [
        (_inches(size), row)
        for row in table("panels.csv")
        if row["thickness_in"]
        for size in row["thickness_in"].split(";")
    ]
    fits = [pair for pair in found if pair[0] <= thickness + CLOSE_ENOUGH]
    if not fits:
        raise BadInput(
            f"A sheet {thickness / INCH:.2f} in thick is thinner than any in the table: "
            "boards start at 3/8 in (9.5 mm)."
        )
    size, row = max(fits, key=lambda pair: pair[0])
    return Sourced(_panel(row, size), row["source"], Status(row["status"]))


def panel_of_rating(rating: str) -> Sourced[Panel]:
    """The sheet of a span rating as stamped on it. Raises BadInput."""
    for row in table("panels.csv"):
        if row["rating"] == rating:
            size = _inches(row["thickness_in"].split(";")[0]) if row["thickness_in"] else 0.0
            return Sourced(_panel(row, size), row["source"], Status(row["status"]))
    raise BadInput(f'There is no span rating "{rating}" in the table of sheets.')


def _panel(row: Row, thickness: float) -> Panel:
    stiff, bend = POUND * INCH**2 / FOOT, POUND * INCH / FOOT
    return Panel(
        row["rating"],
        thickness,
        float(row["stiffness_along_lb_in2_ft"]) * stiff,
        float(row["stiffness_across_lb_in2_ft"]) * stiff,
        float(row["moment_along_lb_in_ft"]) * bend,
        float(row["moment_across_lb_in_ft"]) * bend,
        float(row["shear_through_lb_in"]) * POUND / INCH,
    )


@cache
def lawn_states() -> tuple[str, ...]:
    """Firm, damp, wet."""
    return tuple(row["state"] for row in table("lawns.csv"))


def lawn_state(state: str, soil: str = "loam", limit: float | None = None) -> LawnState:
    """A lawn in a state on clay, loam or sand; `limit` [N/m2] replaces the table's. Raises BadInput."""
    row = next((row for row in table("lawns.csv") if row["state"] == state), None)
    if row is None or soil not in SOIL_CLASSES:
        raise BadInput(f"A lawn is {', '.join(lawn_states())}, on {', '.join(SOIL_CLASSES)}.")
    ratio = [float(row[f"bearing_ratio_{end}"]) for end in ("low", "likely", "high")]
    springs = Range(
        subgrade_faa(ratio[0]), (subgrade_faa(ratio[1]) + subgrade_pca(ratio[1])) / 2, subgrade_pca(ratio[2])
    )
    wet = [float(row[f"moisture_{end}"]) for end in ("high", "likely", "low")]
    cone = Range(*(cone_index(SOIL_CLASSES[soil], moisture) for moisture in wet))
    pressure = float(row["pressure_limit_kPa"]) * 1000.0 if limit is None else limit
    return LawnState(
        Lawn(state, springs, pressure),
        row["words"],
        cone,
        (float(row["exponent_low"]), float(row["exponent_high"])),
        row["source"],
        Status(row["status"]),
        row["pressure_source"],
    )


def presumptive(code: str, soil: str) -> Row:
    """The row of a building code's presumptive bearing table. Raises BadInput."""
    for row in table("presumptive_bearing.csv"):
        if (row["code"], row["soil"]) == (code, soil):
            return row
    raise BadInput(f'There is no presumptive bearing for "{soil}" in {code}; mud, peat and loose fill have none.')


def subgrade_points(name: str) -> tuple[tuple[float, float], ...]:
    """(bearing ratio [%], modulus [N/m3]) of the "IRC 58" or "Huang" table."""
    unit = {"MPa/m": 1e6, "pci": PCI}
    rows = (row for row in table("subgrade.csv") if row["table"] == name)
    return tuple((float(row["bearing_ratio_pct"]), float(row["modulus"]) * unit[row["unit"]]) for row in rows)


def soil_spring(soil: str) -> Sourced[tuple[float, float | None]]:
    """Plate modulus of a soil, low and high [N/m3], high None where the book has no end. Raises BadInput."""
    for row in table("soil_springs.csv"):
        if row["soil"] == soil:
            high = float(row["high_MN_m3"]) * 1e6 if row["high_MN_m3"] else None
            return Sourced((float(row["low_MN_m3"]) * 1e6, high), row["source"], Status(row["status"]))
    raise BadInput(f'There is no spring value for "{soil}" in the table.')


def pressure_mark(what: str) -> Sourced[float]:
    """A pressure people know, to set beside ours [N/m2]. Raises BadInput."""
    for row in table("pressure_marks.csv"):
        if row["what"] == what:
            return Sourced(float(row["kPa"]) * 1000.0, row["source"], Status(row["status"]))
    raise BadInput(f'There is no pressure called "{what}" in the table.')
