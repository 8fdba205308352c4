"""Links that show one job to somebody without an account, and every time one was opened."""

from __future__ import annotations

from django.db import models
from django.utils import timezone

from bolewright.store.models.jobs import KeptJob
from bolewright.store.models.kept import Kept
from bolewright.store.models.people import Ending


class Share(Ending):
    """A link to one job; what is seen by it is fixed when it is made."""

    job = models.ForeignKey(KeptJob, on_delete=models.PROTECT, related_name="shares")
    label = models.CharField(max_length=80)  # for whom
    numbers = models.BooleanField(default=True)  # numbers and drawings
    photos = models.BooleanField(default=False)
    paper_names = models.JSONField(default=list)  # of the papers shown, as files are called
    expires_at = models.DateTimeField()

    class Meta:
        ordering = ("-made_at", "-pk")

    @property
    def state(self) -> str:
        """open | revoked | expired"""
        if self.revoked_at:
            return "revoked"
        return "open" if self.expires_at > timezone.now() else "expired"

    @property
    def sees(self) -> str:
        """What it shows, in words."""
        count = len(self.paper_names)
        papers = f"{count} paper{'' if count == 1 else 's'}"
        parts = (("numbers and drawings", self.numbers), ("photographs", self.photos), (papers, count))
        return ", ".join(words for words, shown in parts if shown) or "nothing"


class ShareOpening(Kept):
    """One opening of a shared page."""

    share = models.ForeignKey(Share, on_delete=models.PROTECT, related_name="openings")
    at = models.DateTimeField(auto_now_add=True)
    what = models.CharField(max_length=60)
    address = models.CharField(max_length=45, blank=True)
    program = models.CharField(max_length=200, blank=True)  # as it calls itself

    class Meta:
        ordering = ("-at", "-pk")
