"""What there was to do on a job by one plan, kept so that the record of hours need not work it out again."""

from __future__ import annotations

from django.db import models

from bolewright.store.models.jobs import KeptJob
from bolewright.store.models.kept import Kept


class ToDo(Kept):
    """The amounts of one plan, as JSON; times play no part in them."""

    job = models.ForeignKey(KeptJob, on_delete=models.PROTECT, related_name="todo")
    document = models.CharField(max_length=64)  # sha256 of the document and of the plan they were counted from
    engine = models.CharField(max_length=40)
    made_at = models.DateTimeField(auto_now_add=True)
    text = models.TextField()

    class Meta:
        ordering = ("pk",)
        constraints = (models.UniqueConstraint(fields=("job", "document", "engine"), name="one_todo_a_plan"),)
