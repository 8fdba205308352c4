"""Sentences of the job document as the sheet says them."""

from __future__ import annotations

from django import template

from bolewright.web import plainly as said

register = template.Library()
register.filter("plainly", said.plainly)
register.filter("place", said.place)
