"""Papers somebody signed: the PDF as signed, with its hash, and what was shown to the signer."""

from __future__ import annotations

from django.db import models

from bolewright.store.models.jobs import KeptJob
from bolewright.store.models.kept import Kept


class SignedPaper(Kept):
    """One signature on one version of a paper. A changed job makes a new version; none is altered."""

    job = models.ForeignKey(KeptJob, on_delete=models.PROTECT, related_name="signed")
    paper = models.CharField(max_length=40)  # its name, as files are called
    version = models.PositiveIntegerField()  # counted for each paper of the job
    revision = models.PositiveIntegerField()  # of the job it was made from
    shown = models.CharField(max_length=64)  # SHA-256 of the contents shown
    lines = models.TextField()  # the contents as lines of text, as JSON: to show what differs later
    about = models.TextField(blank=True)  # what of the job it settles, as JSON: the changes of a change order
    price = models.TextField(blank=True)  # the price then, as JSON: what a later change is set against
    by = models.CharField(max_length=80)
    role = models.CharField(max_length=80)
    statement = models.CharField(max_length=600)
    signed_at = models.DateTimeField()
    where = models.CharField(max_length=200, blank=True)
    device = models.CharField(max_length=200, blank=True)  # as it calls itself
    handed_by = models.CharField(max_length=80, blank=True)  # whose device it was signed on
    strokes = models.TextField(blank=True)  # path of an SVG 600 wide and 200 high; "" when the name was typed
    pdf = models.BinaryField()
    pdf_sha256 = models.CharField(max_length=64)

    class Meta:
        ordering = ("paper", "version")
        constraints = (models.UniqueConstraint(fields=("job", "paper", "version"), name="one_signed_paper_a_version"),)
