"""Entries a tablet made under keys of its own, with the answer each was given."""

from __future__ import annotations

from django.db import models

from bolewright.store.models.jobs import KeptJob
from bolewright.store.models.kept import Kept


class TakenEntry(Kept):
    """One entry taken in. Sent again under the same key it gets the same answer and changes nothing."""

    key = models.CharField(max_length=64, unique=True)
    job = models.ForeignKey(KeptJob, on_delete=models.PROTECT, related_name="entries", null=True, blank=True)
    place = models.CharField(max_length=200)  # the address it was sent to
    at = models.DateTimeField(auto_now_add=True)
    made_at = models.DateTimeField(null=True, blank=True)  # by the tablet's clock, where it was sent later
    by = models.CharField(max_length=80, blank=True)
    sheet = models.CharField(max_length=64, blank=True)  # the page it was typed on
    base = models.PositiveIntegerField(null=True, blank=True)  # number of the revision that page showed
    edits = models.TextField(blank=True)  # changes of the document, as JSON
    answer = models.TextField()  # as JSON

    class Meta:
        ordering = ("pk",)
