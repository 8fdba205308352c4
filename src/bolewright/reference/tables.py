"""Reading the tables shipped with the package: CSV files beside this module, each read once."""

from __future__ import annotations

import csv
import io
from functools import cache
from importlib.resources import files

from bolewright.core.base.sourced import Sourced, Status

Row = dict[str, str]


@cache
def table(name: str) -> tuple[Row, ...]:
    """The rows of a shipped table ("species.csv"), column name to text."""
    text = files("bolewright.reference").joinpath(name).read_text(encoding="utf-8")
    return tuple(csv.DictReader(io.StringIO(text)))


@cache
def citations() -> dict[str, str]:
    """The full citation of every source key used in the tables."""
    return {row["key"]: row["citation"] for row in table("sources.csv")}


def cite(keys: str) -> str:
    """The citations behind one or several source keys ("FIA + FPL-T4-1"), in the order given."""
    return " ".join(citations()[key] for key in keys.split(" + "))


def sourced(row: Row, column: str, name: str = "", factor: float = 1.0) -> Sourced[float]:
    """The number in `column` times `factor`, with the key and status from the columns `name`_source and _status."""
    name = name or column
    return Sourced(float(row[column]) * factor, row[f"{name}_source"], Status(row[f"{name}_status"]))
