"""How much is written about a job: a tablet that has kept its pages asks whether there is more by now."""

from __future__ import annotations

from bolewright.store.models import KeptJob, Mark, PhotoNote, Shown


def written_about(job: KeptJob) -> tuple[int, ...]:
    """Numbers that grow with every revision, answer, line of the log, photograph and word about one.

    Nothing that is written is ever altered, so the same numbers mean the same job.
    """
    about_photos = (rows.objects.filter(photo__job=job).count() for rows in (PhotoNote, Shown, Mark))
    kept = (job.answers, job.log, job.photos, job.waivers)
    return (job.latest.number, *(rows.count() for rows in kept), *about_photos)
