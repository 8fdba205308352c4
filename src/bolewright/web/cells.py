"""A cell of the sheet and a table of cells: how a value of the job document is asked for, read off its model."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from bolewright.job.doors import Door, OrWord
from bolewright.job.model import Job
from bolewright.job.quantity import Dimension
from bolewright.job.shape import Slot, choices, slots
from bolewright.job.table import Table

Kind = Literal["text", "long", "choice", "yes", "number", "amount", "list", "lines", "date"]
Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Field:
    """One cell: its key below the table, how it is asked, and the unit of a plain number typed into it."""

    key: str
    label: str
    kind: Kind
    hint: str
    options: tuple[str, ...] = ()
    unit_us: str = ""
    unit_metric: str = ""
    needed: bool = False

    def unit(self, units: str) -> str:
        """What a plain number is taken to be."""
        return self.unit_metric if units == "metric" else self.unit_us


@dataclass(frozen=True)
class Section:
    """One table of the document on a page; `many` when it has rows."""

    id: str
    path: tuple[str, ...]
    title: str
    hint: str
    fields: tuple[Field, ...]
    many: bool
    one: str = ""  # what one row is called
    folded: bool = False


LABELS = {
    "at": "Where", "on": "On", "id": "Name", "tip_diameter": "Tip dia.", "diameter": "Dia.", "clock": "Clock",
    "dbh": "Dia. at breast height", "from": "From", "to": "To", "ridge_runs": "Ridge runs",
    "people_out": "Everyone out",
    "moisture_note": "Wet or dry", "attached": "Butt held by", "near": "Near side", "far": "Far side",
    "member": "Member", "feel": "Feel", "bearing": "Bearing", "offset": "Sideways", "height": "Height",
    "until": "Until off", "jacked": "Jacked to",
}  # fmt: skip
SMALL_LENGTHS = {
    "diameter", "tip_diameter", "shell", "dbh", "gap", "tolerance", "movement", "tyre_width", "tyre_diameter",
    "contact", "thickness", "chipper",
}  # fmt: skip
YES = ("people_out", "broken", "owner_told", "pushed", "movable", "owns")
LINES = (
    "to", "sender", "ask", "enclosure", "evidence", "scope", "excluded", "done", "not_done", "left", "danger",
)  # fmt: skip
DATES = ("date", "reinspect", "answer_by", "authorised_on")
LONG = ("notes", "moisture_note", "assignment", "why", "opinion", "said")
NUMBERS = ("clock", "count", "samples", "seed", "steps", "wheels", "layers")
UNITS: dict[Dimension, tuple[str, str]] = {
    Dimension.LENGTH: ("ft", "m"), Dimension.MASS: ("lb", "kg"), Dimension.FORCE: ("lb", "kN"),
    Dimension.ANGLE: ("deg", "deg"), Dimension.DENSITY: ("lb/ft^3", "kg/m^3"), Dimension.PRESSURE: ("psf", "kPa"),
    Dimension.SHARE: ("%", "%"),
    Dimension.VOLUME: ("yd^3", "m^3"), Dimension.SPEED: ("mph", "km/h"),
}  # fmt: skip


def section(path: str, title: str, hint: str, keys: str, one: str = "", folded: bool = False) -> Section:
    """A section of the fields named, read off the document's own models."""
    parts = tuple(path.split("."))
    table, many = _table(parts)
    fields = tuple(_field(table, key) for key in keys.split())
    return Section(path.replace(".", "-").replace("_", "-"), parts, title, hint, fields, many, one, folded)


def _table(parts: tuple[str, ...]) -> tuple[type[Table], bool]:
    table: type[Table] = Job
    many = False
    for part in parts:
        slot = slots(table)[part]
        assert slot.inside is not None
        table, many = slot.inside, slot.kind == "list of tables"
    return table, many


def _field(table: type[Table], key: str) -> Field:
    first, _, rest = key.partition(".")
    slot = slots(table)[first]
    if rest and slot.inside is not None:
        inner = _field(slot.inside, rest)
        label = f"{LABELS.get(first, first).capitalize()} {inner.label.lower()}"
        return Field(key, label, inner.kind, inner.hint, inner.options, inner.unit_us, inner.unit_metric, inner.needed)
    name = LABELS.get(first, first.replace("_", " ").capitalize())
    hint, needed = slot.info.description or "", slot.info.is_required()
    kind, options = _kind(slot)
    us, metric = _units(slot, first)
    return Field(key, name, kind, hint, options, us, metric, needed)


def _kind(slot: Slot) -> tuple[Kind, tuple[str, ...]]:
    words = tuple(str(word) for word in choices(slot.hint))
    door = _door(slot.hint)
    if slot.key in YES:
        return "yes", ()
    if slot.key in DATES:
        return "date", ()
    if slot.key in LONG:
        return "long", ()
    if slot.kind == "list of values":
        return ("lines" if slot.key in LINES else "list"), ()
    if slot.key in NUMBERS:
        return "number", ()
    if words and door is None:
        return "choice", words
    return ("amount", ()) if door is not None else ("text", ())


def _units(slot: Slot, key: str) -> tuple[str, str]:
    door = _door(slot.hint)
    if door is None:
        return "", ""
    if door.dimension is Dimension.LENGTH and key in SMALL_LENGTHS:
        return "in", "cm"
    return UNITS.get(door.dimension, ("", ""))


def _door(hint: Any) -> Door | None:
    """The door of a quantity, however deep it sits in a type hint."""
    for part in getattr(hint, "__metadata__", ()):
        if isinstance(part, Door):
            return part
        if isinstance(part, OrWord):
            return part.door
    for part in getattr(hint, "__args__", ()):
        found = _door(part)
        if found is not None:
            return found
    return None
