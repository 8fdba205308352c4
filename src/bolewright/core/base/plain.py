"""Results as plain data for files and other programs: nothing is left out, nothing rounded."""

from __future__ import annotations

import dataclasses
import math
from decimal import Decimal
from typing import Any


def plain(value: Any) -> Any:
    """Dataclasses as dictionaries, tuples as lists, money as text, no bound as None, all the way down.

    Numbers keep their unit [as in the result] and are not rounded.

    Source: RFC 8259 knows no infinities, so a number without a bound is null.
    Checked by: tests/functional/test_commands_page.py
    """
    if dataclasses.is_dataclass(value):
        return {field.name: plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, dict):
        return {str(name): plain(inner) for name, inner in value.items()}
    if isinstance(value, list | tuple):
        return [plain(inner) for inner in value]
    if isinstance(value, str | bool | int) or value is None:
        return value
    if isinstance(value, Decimal):
        return str(value)  # money to the cent: a binary fraction would not keep it
    return float(value) if math.isfinite(value) else None
