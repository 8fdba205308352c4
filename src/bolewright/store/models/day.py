"""The day of work: what was seen, done and stopped, and the answers the crew worked from."""

from __future__ import annotations

from django.db import models

from bolewright.store.models.jobs import KeptJob
from bolewright.store.models.kept import Kept


class Answer(Kept):
    """The answer to "in what order to cut" for one revision, as it was given: results in full, as JSON."""

    job = models.ForeignKey(KeptJob, on_delete=models.PROTECT, related_name="answers")
    revision = models.PositiveIntegerField()
    document = models.CharField(max_length=64)  # sha256 of what was worked out
    made_at = models.DateTimeField(auto_now_add=True)
    seconds = models.FloatField()
    engine = models.CharField(max_length=40)
    text = models.TextField()

    class Meta:
        ordering = ("made_at", "pk")
        constraints = (models.UniqueConstraint(fields=("job", "document", "engine"), name="one_answer_a_document"),)


class LogEntry(Kept):
    """One line of the day's log."""

    KINDS = ("ticked", "unticked", "observed", "stopped", "went on", "unsigned", "plan")

    job = models.ForeignKey(KeptJob, on_delete=models.PROTECT, related_name="log")
    kind = models.CharField(max_length=12)
    at = models.DateTimeField(auto_now_add=True)
    made_at = models.DateTimeField(null=True, blank=True)  # by the tablet's clock, where it was sent later
    by = models.CharField(max_length=80, blank=True)
    answer = models.ForeignKey(Answer, on_delete=models.PROTECT, null=True, blank=True, related_name="log")
    step = models.PositiveIntegerField(null=True, blank=True)
    about = models.CharField(max_length=80, blank=True)  # a support, piece or place
    said = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ("at", "pk")
