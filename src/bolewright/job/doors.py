"""How one value of a job is let in: read, kept within limits, refused in plain words, and written as it was typed."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from bolewright.job.quantity import EXAMPLES, UNITLESS, BadQuantity, Dimension, Quantity, quantity, such_as


def refuse(sentence: str) -> PydanticCustomError:
    """A fault whose sentence reaches the user as it stands."""
    return PydanticCustomError("plain", "{sentence}", {"sentence": sentence})


def _serialised(to: Callable[[Any], Any]) -> Any:
    return core_schema.plain_serializer_function_ser_schema(to)


@dataclass(frozen=True)
class Door:
    """Reads a quantity of one dimension and keeps it within limits (SI); `*_words` name them."""

    dimension: Dimension
    least: float = -math.inf
    most: float = math.inf
    least_words: str = ""
    most_words: str = ""
    above: bool = False  # whether `least` itself is refused too

    def read(self, value: Any) -> Quantity:
        """The quantity, or a fault in plain words."""
        if isinstance(value, Quantity):
            value = value.text
        if isinstance(value, int | float) and not isinstance(value, bool):
            value = self._number(value)
        if not isinstance(value, str):
            raise refuse(f"This is not a value with a unit: {such_as(self.dimension)}, in quotes.")
        try:
            read = quantity(value, self.dimension)
        except BadQuantity as fault:
            raise refuse(str(fault)) from None
        self._check(read)
        return read

    def _number(self, value: float) -> str:
        if not -1e15 < value < 1e15:  # also false for nan
            raise refuse(f"This is not a number that can be used: {such_as(self.dimension)}.")
        if self.dimension not in UNITLESS:
            raise refuse(f"{value} has no unit: {such_as(self.dimension)}, in quotes.")
        return repr(value)

    def _check(self, read: Quantity) -> None:
        subject = f'The low end of "{read.text}"' if read.has_spread else f'"{read.text}"'
        if self.above and read.low <= self.least:
            raise refuse(f"{subject} must be more than zero.")
        if read.low < self.least:
            words = self.least_words or "zero"
            raise refuse(f"{subject} is below {words}: check the number and its unit.")
        if read.high > self.most:
            raise refuse(f'"{read.text}" is more than {self.most_words}: check the number and its unit.')

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """pydantic's hook: read on the way in, the text as typed on the way out."""
        return core_schema.no_info_plain_validator_function(self.read, serialization=_serialised(str))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """JSON schema: text with a digit in it, or for shares and plain numbers a number too."""
        text: dict[str, Any] = {"type": "string", "pattern": "[0-9½¼¾⅛⅜⅝⅞]", "maxLength": 80}
        examples = list(EXAMPLES[self.dimension])
        if self.dimension not in UNITLESS:
            return {**text, "examples": examples}
        return {"anyOf": [{"type": "number"}, text], "examples": examples}


@dataclass(frozen=True)
class OrWord:
    """A quantity, or one of a few fixed words ("rigid")."""

    door: Door
    words: tuple[str, ...]

    def read(self, value: Any) -> Quantity | str:
        """The word as it stands, or the quantity."""
        return value if isinstance(value, str) and value in self.words else self.door.read(value)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """pydantic's hook."""
        return core_schema.no_info_plain_validator_function(self.read, serialization=_serialised(str))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """JSON schema of either."""
        quantity_schema = self.door.__get_pydantic_json_schema__(schema, handler)
        return {"anyOf": [{"enum": list(self.words)}, quantity_schema]}


@dataclass(frozen=True, eq=False)
class Reader:
    """Any other field read by one function; `shape` is its JSON schema, `out` how it is written again."""

    read: Callable[[Any], Any]
    shape: dict[str, Any]
    out: Callable[[Any], Any] = str

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """pydantic's hook."""
        return core_schema.no_info_plain_validator_function(self.read, serialization=_serialised(self.out))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """JSON schema as given."""
        return dict(self.shape)
