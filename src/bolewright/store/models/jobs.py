"""A job and its revisions: every change adds one, none is ever altered or taken away."""

from __future__ import annotations

import secrets
from typing import Any

from django.db import models

from bolewright.store.models.kept import Kept


def new_key() -> str:
    """A short name for a job that cannot be guessed."""
    return secrets.token_urlsafe(9)


class KeptJob(models.Model):
    """One job. What it says is in its revisions."""

    key = models.CharField(max_length=24, unique=True, default=new_key)
    made_at = models.DateTimeField(auto_now_add=True)
    example = models.CharField(max_length=80, blank=True)  # name of the shipped example it came from
    units = models.CharField(max_length=6, default="us")  # how numbers are written for people: us | metric

    class Meta:
        ordering = ("-made_at", "-pk")

    @property
    def latest(self) -> Revision:
        """The newest revision in the line."""
        return self.revisions.filter(aside=False).latest("number")


class Revision(Kept):
    """The whole job document at one time. `aside`: kept because it was overtaken by another, not in the line."""

    job = models.ForeignKey(KeptJob, on_delete=models.PROTECT, related_name="revisions")
    number = models.PositiveIntegerField()
    text = models.TextField()
    made_at = models.DateTimeField(auto_now_add=True)
    by = models.CharField(max_length=80, blank=True)
    what = models.CharField(max_length=200, blank=True)  # what was changed, in words
    restores = models.PositiveIntegerField(null=True, blank=True)  # number of the revision this one brings back
    aside = models.BooleanField(default=False)
    base = models.PositiveIntegerField(default=0)  # number of the revision the change was made on
    settled = models.BooleanField(default=False)  # of one aside: somebody has looked at both versions and chosen

    class Meta:
        ordering = ("number", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("job", "number"), condition=models.Q(aside=False), name="one_revision_a_number"
            ),
        )

    def may_change(self) -> tuple[str, ...]:
        """Only whether an overtaken one has been settled."""
        return ("settled",) if self.aside else ()

    def __str__(self) -> str:
        return f"{self.job.key} revision {self.number}"


def first_revision(job: KeptJob, text: str, by: str, what: str) -> Revision:
    """Revision 1 of a job just made."""
    fields: dict[str, Any] = {"job": job, "number": 1, "text": text, "by": by, "what": what}
    return Revision.objects.create(**fields)
