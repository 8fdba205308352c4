"""Timber tables: sizes as dressed, allowable stresses by grade, and bearing across the grain by species."""

from __future__ import annotations

import csv
import re
from functools import cache
from importlib.resources import files
from typing import Literal

from bolewright.core.base.errors import BadInput
from bolewright.core.base.sourced import Sourced, Status
from bolewright.core.props.timber import INCH, PSI, TIMBER_FROM, WET_CROSS_GRAIN, Strengths, Timber

_QUANTITIES = ("bending", "tension", "shear", "cross_grain", "compression", "modulus", "modulus_min")
_SAWN = re.compile(r"\s*(\d{1,2})\s*[xX×]\s*(\d{1,2})\s*")
_EXACT = re.compile(r"\s*(\d+(?:\.\d+)?)\s*[xX×]\s*(\d+(?:\.\d+)?)\s*(in|cm|mm)\s*")
_ROUND = re.compile(r"\s*round\s+(\d+(?:\.\d+)?)\s*(in|inch|inches|\"|cm|mm|m)\s*", re.IGNORECASE)
_LENGTH = {"in": INCH, "inch": INCH, "inches": INCH, '"': INCH, "cm": 0.01, "mm": 0.001, "m": 1.0}
_SPECIES = {
    "df-l": "DF-L", "df": "DF-L", "douglas-fir": "DF-L", "douglas fir": "DF-L", "douglas fir-larch": "DF-L",
    "douglas-fir-larch": "DF-L", "hf": "HF", "hem-fir": "HF", "hem fir": "HF", "spf": "SPF", "spruce-pine-fir": "SPF",
    "spruce": "SPF", "sp": "SP", "southern pine": "SP", "southern yellow pine": "SP",
    "unmarked": "unmarked", "": "unmarked",
}  # fmt: skip
_GRADES = {"": "No.2", "ss": "SS", "select structural": "SS", "stud": "Stud", "1": "No.1", "2": "No.2", "3": "No.3"}


def _rows(name: str) -> list[dict[str, str]]:
    text = files("bolewright.reference").joinpath(name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@cache
def _dressed() -> dict[int, float]:
    return {int(row["nominal_in"]): float(row["dressed_in"]) * INCH for row in _rows("timber_sizes.csv")}


@cache
def _grades() -> dict[tuple[str, str, str], Strengths]:
    return {(row["species"], row["grade"], row["size_class"]): _strengths(row) for row in _rows("timber.csv")}


def _strengths(row: dict[str, str]) -> Strengths:
    value = {name: float(row[f"{name}_psi"]) * PSI for name in _QUANTITIES}
    return Strengths(**value, source=row["source"], status=Status.MEMORY if row["from_memory"] else Status.CONFIRMED)


def section_of(text: str) -> tuple[Literal["sawn", "round"], float, float]:
    """Kind and dressed sides [m] of a size as the trade says it: "4x4" is 3 1/2 by 3 1/2 in, "round 8 in" is 8 in,
    "100 x 150 mm" is that.

    Smaller side first. Both nominal sides 5 in or more are dressed half an inch off (6x8 is 5 1/2 by 7 1/2).
    Raises BadInput with the sizes known.
    """
    if found := _ROUND.fullmatch(text):
        diameter = float(found[1]) * _LENGTH[found[2].lower()]
        if diameter <= 0.0:
            raise BadInput(f'The round timber "{text}" needs a diameter above zero.')
        return "round", diameter, diameter
    if found := _EXACT.fullmatch(text):
        width, depth = sorted(float(found[side]) * _LENGTH[found[3]] for side in (1, 2))
        if width <= 0.0:
            raise BadInput(f'The timber "{text}" needs sides above zero.')
        return "sawn", width, depth
    found = _SAWN.fullmatch(text)
    known = _dressed()
    if found is None or int(found[1]) not in known or int(found[2]) not in known:
        raise BadInput(f'The timber size "{text}" is not known; write it like "4x4", "100 x 150 mm" or "round 8 in".')
    sides = sorted((int(found[1]), int(found[2])))
    if sides[0] >= 5:
        return "sawn", (sides[0] - 0.5) * INCH, (sides[1] - 0.5) * INCH
    return "sawn", known[sides[0]], known[sides[1]]


def lumber_strengths(species: str, grade: str, width: float) -> Strengths:
    """Allowable stresses of a grade; `width` [m] tells dimension lumber from timbers (5 in and up).

    Nothing said means "unmarked No.2": the lowest value of the four common groups. The status is "from memory" as
    soon as one of the values is. Raises BadInput with the grades known for the species.
    """
    group = _SPECIES.get(species.strip().lower())
    if group is None:
        known = ", ".join(sorted({key[0] for key in _grades()} - {"unmarked"}))
        raise BadInput(f'Lumber of species "{species}" is not in the table; it holds {known}.')
    wanted = re.sub(r"^(no\.?|number|#)\s*", "", grade.strip().lower())
    size_class = "timber" if width >= TIMBER_FROM else "dimension"
    key = (group, _GRADES.get(wanted, grade), size_class)
    if key not in _grades():
        known = ", ".join(k[1] for k in _grades() if (k[0], k[2]) == (group, size_class))
        raise BadInput(f'There is no grade "{grade}" of {group} {size_class} in the table; it holds {known}.')
    return _grades()[key]


def timber_of(size: str, length: float, count: int, species: str = "", grade: str = "", wet: bool = False) -> Timber:
    """Sticks on the truck, from how they are spoken of. Round sticks take the strengths of sawn timbers, wet.

    Raises BadInput for a size, species or grade that is not in the tables.
    """
    kind, width, depth = section_of(size)
    strengths = lumber_strengths(species, grade, width)
    return Timber(size.strip(), kind, width, depth, length, count, strengths, wet=wet or kind == "round")


def cross_grain_of(scientific_name: str) -> Sourced[float]:
    """Allowable bearing across the grain of green wood of a species [Pa]: the longest name that fits, else the lowest.

    The table's dry value times 0.67 for wet wood. The status is that of the dry value.
    """
    name = scientific_name.strip().lower()
    fits = [row for row in _rows("timber_cross_grain.csv") if name.startswith(row["scientific_name_starts"].lower())]
    row = max(fits, key=lambda found: len(found["scientific_name_starts"]))
    value = float(row["dry_psi"]) * PSI * WET_CROSS_GRAIN
    return Sourced(value, f"{row['source']}, x 0.67 wet", Status(row["status"]))
