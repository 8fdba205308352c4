"""Photographs as they came, what they show, what was drawn on a copy, and views somebody decided to do without."""

from __future__ import annotations

from django.db import models

from bolewright.store.models.jobs import KeptJob
from bolewright.store.models.kept import Kept


class Photo(Kept):
    """One original, kept untouched under its hash; what is known about it beside it."""

    job = models.ForeignKey(KeptJob, on_delete=models.PROTECT, related_name="photos")
    number = models.PositiveIntegerField()  # counted through the job, without gaps
    stage = models.CharField(max_length=20)
    view = models.CharField(max_length=40, blank=True)  # the required view it fills
    sha256 = models.CharField(max_length=64)
    name = models.CharField(max_length=200)  # as the camera called it
    kind = models.CharField(max_length=10)  # JPEG, PNG ...
    size = models.PositiveBigIntegerField()  # bytes
    width = models.PositiveIntegerField()  # pixels
    height = models.PositiveIntegerField()
    taken = models.CharField(max_length=40, blank=True)  # as the camera wrote it; cameras know no time zone
    place = models.CharField(max_length=60, blank=True)  # latitude, longitude as the camera wrote them
    received_at = models.DateTimeField(auto_now_add=True)
    made_at = models.DateTimeField(null=True, blank=True)  # put in, by the tablet's clock, where it was sent later
    by = models.CharField(max_length=80, blank=True)
    facing = models.CharField(max_length=80, blank=True)
    note = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ("number",)
        constraints = (
            models.UniqueConstraint(fields=("job", "number"), name="one_photo_a_number"),
            models.UniqueConstraint(fields=("job", "sha256", "view"), name="same_photo_once_a_view"),
        )


class PhotoNote(Kept):
    """What somebody says about a photograph beside what the camera wrote. The newest stands; none is altered."""

    photo = models.ForeignKey(Photo, on_delete=models.PROTECT, related_name="notes")
    made_at = models.DateTimeField(auto_now_add=True)
    by = models.CharField(max_length=80, blank=True)
    taken = models.CharField(max_length=40, blank=True)
    place = models.CharField(max_length=60, blank=True)
    facing = models.CharField(max_length=80, blank=True)
    photographer = models.CharField(max_length=80, blank=True)
    shows = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ("pk",)


class Shown(Kept):
    """That a photograph shows a required view, or does not after all. The newest word on the two counts."""

    photo = models.ForeignKey(Photo, on_delete=models.PROTECT, related_name="shown")
    view = models.CharField(max_length=40)
    shows = models.BooleanField()
    by = models.CharField(max_length=80, blank=True)
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("pk",)


class Mark(Kept):
    """One thing drawn on a copy of a photograph, or that an earlier one was taken back. Places are shares of width and
    height of the upright picture, from its top left corner."""

    KINDS = ("arrow", "text", "scale", "length", "taken back")

    photo = models.ForeignKey(Photo, on_delete=models.PROTECT, related_name="marks")
    kind = models.CharField(max_length=10)
    x1 = models.FloatField(null=True)
    y1 = models.FloatField(null=True)
    x2 = models.FloatField(null=True)
    y2 = models.FloatField(null=True)
    tap = models.FloatField(default=0.01)  # how far a point may be off, as a share of the longer side
    words = models.CharField(max_length=120, blank=True)
    measure = models.CharField(max_length=80, blank=True)  # of a scale, as typed with its unit
    of = models.ForeignKey("self", on_delete=models.PROTECT, null=True)  # scale of a length; what is taken back
    by = models.CharField(max_length=80, blank=True)
    made_at = models.DateTimeField(auto_now_add=True)
    drawn_at = models.DateTimeField(null=True, blank=True)  # by the tablet's clock, where it was sent later
    key = models.CharField(
        max_length=64, blank=True
    )  # of the entry it came as: a length drawn after it names its scale

    class Meta:
        ordering = ("pk",)


class Waiver(Kept):
    """A required view done without, with the reason and who decided it."""

    job = models.ForeignKey(KeptJob, on_delete=models.PROTECT, related_name="waivers")
    view = models.CharField(max_length=40)
    reason = models.CharField(max_length=500)
    by = models.CharField(max_length=80)
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("made_at", "pk")
