"""Numbers in templates, rounded as the drawings round them."""

from __future__ import annotations

import math
from decimal import Decimal

from django import template
from django.utils.safestring import SafeString, mark_safe

from bolewright.core.base.range import Range
from bolewright.documents import parts
from bolewright.drawings import units as u
from bolewright.drawings.units import Units
from bolewright.planning.haul.price import Three
from bolewright.planning.haul.results import Material
from bolewright.planning.results import FilledIn, Learnt

register = template.Library()


@register.filter
def force(value: Range | float, units: Units) -> str:
    """A force, with its range where it has one."""
    return u.force_range(value, units) if isinstance(value, Range) else u.force(value, units)


@register.filter
def filled(row: FilledIn, units: Units) -> str:
    """A value that was filled in."""
    return row.said(units)


@register.filter
def mass(value: Range | float, units: Units) -> str:
    """A mass, with its range where it has one."""
    return u.mass_range(value, units) if isinstance(value, Range) else u.mass(value, units)


@register.filter
def as_read(row: Learnt, units: Units) -> str:
    """What was read."""
    return row.said if row.read is None else u.reading(row.read, row.kind, units)


@register.filter
def as_foreseen(row: Learnt, units: Units) -> str:
    """What was foreseen for it."""
    return u.reading(row.foreseen, row.kind, units)


@register.filter
def as_now(row: Learnt, units: Units) -> str:
    """What is foreseen for it now."""
    return u.reading(row.now, row.kind, units)


@register.filter
def site_length(value: float, units: Units) -> str:
    """A length on the site."""
    return u.length(value, units)


@register.filter
def spare(value: float | None, units: Units) -> str:
    """A margin as a distance, or why there is none."""
    return "not told" if value is None or math.isnan(value) else u.length(value, units)


@register.filter
def spare_change(after: float | None, before: float | None) -> str:
    """Whether a margin grew or shrank, by more than an inch or two."""
    if after is None or before is None or math.isnan(after) or math.isnan(before):
        return ""
    return "the same" if abs(after - before) < 0.03 or after == before else "more" if after > before else "less"


@register.filter
def small(value: Range | float, units: Units) -> str:
    """A gap or a kerf, without its sign."""
    return u.small(abs(value.likely if isinstance(value, Range) else value), units)


@register.filter
def size(value: float, units: Units) -> str:
    """A diameter or depth of cut."""
    return u.size(value, units)


@register.filter
def moment(value: Range, units: Units) -> str:
    """A moment with its range."""
    return u.moment_range(value, units)


@register.filter
def pressure(value: Range | float, units: Units) -> str:
    """A pressure in kPa, with its range where it has one."""
    return u.pressure_range(value, units) if isinstance(value, Range) else u.pressure(value, units)


@register.filter
def hours(value: Range) -> str:
    """Hours with their range."""
    return f"{value.likely:.1f} h ({value.low:.1f} to {value.high:.1f})"


@register.filter
def one_time(value: float) -> str:
    """How long one thing takes, from hours."""
    return u.one_time(value)


@register.filter
def clock(value: float) -> str:
    """A clock position."""
    return u.clock(value)


@register.filter
def change(value: Range, units: Units) -> str:
    """A change of load: more, less, or none, in words with its range."""
    if max(abs(value.low), abs(value.high)) < 5.0:  # N: less than is written
        return "no change"
    word = "more" if value.likely > 0 else "less"
    shown = value if value.likely > 0 else value.scaled(-1.0)
    return f"{u.force_range(shown, units)} {word}"


@register.filter
def is_finite(value: float) -> bool:
    """Whether there is a bound."""
    return math.isfinite(value)


@register.filter
def minutes(value: float) -> str:
    """Time as a crew says it."""
    whole = round(value / 5) * 5
    return f"{whole // 60} h {whole % 60:02d} min" if whole >= 60 else f"{whole} min"


@register.filter
def room(value: Range, units: Units) -> str:
    """The room something loose takes."""
    return u.room_range(value, units)


@register.filter
def for_its_room(row: Material, units: Units) -> str:
    """How much it weighs for the room it takes."""
    return u.bulk(row.bulk_kg_m3, units)


@register.filter
def money(amount: Decimal, currency: str) -> str:
    """A sum, exact to the cent."""
    return parts.money(amount, currency)


@register.filter
def money_range(three: Three, currency: str) -> str:
    """A sum as likely with its range."""
    likely, ends = parts.money_range(three, currency)
    return f"{likely} ({ends})" if ends else likely


@register.filter
def svg(drawing: str) -> SafeString:
    """A drawing of ours put into the page; its texts were escaped when it was drawn."""
    return mark_safe(drawing)


@register.filter
def get(mapping: dict[object, object], key: object) -> object:
    """What a mapping holds under a key."""
    return mapping.get(key)


@register.filter
def times(count: int | str) -> range:
    """A run of numbers, to repeat something."""
    return range(int(count or 0))
