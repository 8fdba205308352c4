"""Numbers of a standing tree as the pages write them: the same words as on its papers."""

from __future__ import annotations

from django import template

from bolewright.core.base.range import Range
from bolewright.documents.inspection.numbers import told_sections as told
from bolewright.documents.inspection.summary import ANSWERS
from bolewright.documents.standing import words as w
from bolewright.drawings import standing_words as s
from bolewright.drawings import units as u
from bolewright.drawings.units import Units
from bolewright.planning.standing.results import Narrows, StandResult, StandSection

register = template.Library()


@register.filter
def answer(result: StandResult) -> str:
    """Inside, outside, or not enough known."""
    return ANSWERS[result.status]


@register.filter
def first(result: StandResult, units: Units) -> str:
    """What gives way first."""
    return w.first_to_fail(result, units)


@register.filter
def gust(value: Range, units: Units) -> str:
    """A range of gusts."""
    return w.gust(value, units)


@register.filter
def speed(value: float, units: Units) -> str:
    """A wind speed."""
    return u.speed(value, units)


@register.filter
def thick(value: float, units: Units) -> str:
    """A depth of wood."""
    return u.size(value, units)


@register.filter
def factor(value: Range) -> str:
    """A margin."""
    return w.factor(value)


@register.filter
def percent(value: float) -> str:
    """A share."""
    return w.percent(value)


@register.filter
def shares(value: Range) -> str:
    """A share with its range."""
    return w.share(value)


@register.filter
def compass(degrees: float) -> str:
    """The nearest point of the compass."""
    return s.compass(degrees).split(" ")[0]


@register.filter
def span(item: Narrows, units: Units) -> str:
    """How far one unknown alone moves the gust."""
    return w.span(item.gust_low_m_s, item.gust_high_m_s, units)


@register.filter
def told_sections(result: StandResult) -> list[StandSection]:
    """The places of the stem worth a row."""
    return told(result)


@register.filter
def least_margin(result: StandResult) -> Range:
    """The least margin along the stem."""
    return min((section.margin for section in result.sections), key=lambda margin: margin.likely)


@register.filter
def split(words: str) -> list[str]:
    """Words parted by strokes."""
    return words.split("|")
