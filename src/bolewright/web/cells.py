"""A cell of the sheet and a table of cells: how a value of the job document is asked for, read off its model."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from bolewright.job.doors import Door, OrWord, Reader
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
    usual: str = ""  # what is taken when nothing is entered
    roomy: bool = False  # told in several words in this form

    @property
    def wide(self) -> bool:
        """Whether it takes the room of several cells."""
        return self.kind == "text" and self.key in WIDE

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
    "until": "Until off", "Limits.until": "Goes on until", "jacked": "Jacked to",
    "Machine.contact": "Length on the ground", "wheel_load": "Heaviest wheel, loaded", "tip": "Tip fee",
    "tip_by": "Tip fee for each", "cut_again": "Cut again where it lands",
    "splits": "Rounds split, up to", "radius": "Radius of the picks",
    "down": "Set down", "hook": "Hook block and ball", "stowed": "Stowed attachments", "margin": "Kept in hand",
    "rope": "Rope, breaking strength", "fall": "Fall before it is tight",
    "block": "Block, working load limit", "block_angle": "Angle at the block", "wraps": "Turns on the post",
    "sling": "One sling, upright rating", "sling_angle": "Angle of the slings", "crane_least": "Crane, least time",
    "crane_fixed": "Crane, coming and going", "light_until": "Dark at", "wind": "Gusts forecast",
    "wind_limit": "Gusts that stop work", "crews": "Crews at once", "people": "People in a crew",
    "carry": "One carry by hand", "trip": "One trip", "board": "One sheet", "clean": "Clean up",
    "Rates.cut": "One cut", "Rates.lower": "One piece let down", "Rates.load": "Load one truck",
    "Rates.secure": "One prop or line", "Rates.set_up": "Set up", "Crane.slings": "Slings and shackles",
    "Rigging.slings": "Legs on a lift", "Rigging.run": "Let run after that", "Machine.count": "How many of it",
    "Day.start": "Crew there at", "Gusts.day": "Day of the work", "Call.at": "When", "LogLine.at": "When",
    "HandOver.at": "When", "LogLine.on": "Day", "Worked.on": "Day", "Actual.on": "Day",
    "Actual.job": "Job", "left_out": "Hours left out, because", "tag": "Part of the price",
    "owner_told": "Owner has told", "owns": "Says it is theirs", "Change.id": "Number", "tip_load": "Tip fee, a load",
    "sheet": "One sheet laid", "ceiling": "Not to exceed", "crew_hour": "Crew, an hour",
    "machine_hour": "Machine, an hour", "crane_hour": "Crane, an hour",
}  # fmt: skip
WIDE = {  # told in a sentence rather than a word
    "what", "address", "licence", "insurance", "happened", "hurt", "inside", "hit", "wires", "gas", "water", "access",
    "told_by", "wood", "buried", "neighbour", "permits", "payment", "valid", "effect", "before", "ours", "cover",
    "signals", "footing", "site", "title", "left_out", "note", "kept", "inspector", "size", "station",
}  # fmt: skip
SMALL_LENGTHS = {
    "diameter", "tip_diameter", "shell", "dbh", "gap", "tolerance", "movement", "tyre_width", "tyre_diameter",
    "contact", "thickness", "chipper",
}  # fmt: skip
LINES = (
    "to", "sender", "ask", "enclosure", "evidence", "scope", "excluded", "done", "not_done", "left", "danger",
)  # fmt: skip
LONG = ("notes", "moisture_note", "assignment", "why", "opinion", "said", "chart")
SHORT_TIMES = {"secure", "cut", "lower", "carry", "trip", "board", "load"}
READERS: dict[str, Kind] = {"boolean": "yes", "integer": "number", "number": "number"}  # by what a field is read to
UNITS: dict[Dimension, tuple[str, str]] = {
    Dimension.LENGTH: ("ft", "m"), Dimension.MASS: ("lb", "kg"), Dimension.FORCE: ("lb", "kN"),
    Dimension.ANGLE: ("deg", "deg"), Dimension.DENSITY: ("lb/ft^3", "kg/m^3"), Dimension.PRESSURE: ("psf", "kPa"),
    Dimension.SHARE: ("%", "%"),
    Dimension.VOLUME: ("yd^3", "m^3"), Dimension.SPEED: ("mph", "km/h"), Dimension.TIME: ("h", "h"),
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
        needed = inner.needed and slot.info.is_required()
        return Field(key, label, inner.kind, inner.hint, inner.options, inner.unit_us, inner.unit_metric, needed)
    name = _label(table, first)
    hint, needed = slot.info.description or "", slot.info.is_required()
    extra = slot.info.json_schema_extra
    usual = str(extra.get("default", "")) if isinstance(extra, dict) else ""
    kind, options = _kind(slot)
    us, metric = _units(slot, first)
    return Field(key, name, kind, hint, options, us, metric, needed, usual)


def _label(table: type[Table], key: str) -> str:
    """What a field is called: by its table where several tables have one of that name."""
    return LABELS.get(f"{table.__name__}.{key}") or LABELS.get(key) or key.replace("_", " ").capitalize()


def _kind(slot: Slot) -> tuple[Kind, tuple[str, ...]]:
    words = tuple(str(word) for word in choices(slot.hint))
    door = _door(slot.hint)
    read = _read_to(slot.hint)
    if read is not None and slot.kind == "value":
        return read, ()
    if slot.key in LONG:
        return "long", ()
    if slot.kind == "list of values":
        return ("lines" if slot.key in LINES else "list"), ()
    if words and door is None:
        return "choice", words
    return ("amount", ()) if door is not None else ("text", ())


def _units(slot: Slot, key: str) -> tuple[str, str]:
    door = _door(slot.hint)
    if door is None:
        return "", ""
    if door.dimension is Dimension.LENGTH and key in SMALL_LENGTHS:
        return "in", "cm"
    if door.dimension is Dimension.TIME and key in SHORT_TIMES:
        return "min", "min"
    return UNITS.get(door.dimension, ("", ""))


def _read_to(hint: Any) -> Kind | None:
    """Yes or no, a plain number or a date, where the field's reader says so."""
    for part in getattr(hint, "__metadata__", ()):
        if isinstance(part, Reader):
            return "date" if part.shape.get("format") == "date" else READERS.get(str(part.shape.get("type")))
    return next((found for part in getattr(hint, "__args__", ()) if (found := _read_to(part)) is not None), None)


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
