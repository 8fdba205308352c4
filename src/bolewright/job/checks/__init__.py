"""Faults that show only when several values are seen together, all found in one go.

Every check has to bear a job in which any value is None: `salvage` hands over what could be read of a faulty file.
"""

from __future__ import annotations

from collections.abc import Iterator

from bolewright.job.checks.contacts import contact_faults
from bolewright.job.checks.decay import decay_faults
from bolewright.job.checks.ids import id_faults
from bolewright.job.checks.limbs import limb_faults
from bolewright.job.checks.members import Members
from bolewright.job.checks.out import out_faults
from bolewright.job.checks.progress import progress_faults
from bolewright.job.checks.site import site_faults
from bolewright.job.checks.standing import standing_faults
from bolewright.job.checks.stem import attachment_faults, stem_faults
from bolewright.job.checks.wanted import wanted_faults
from bolewright.job.faults import Fault
from bolewright.job.model import Job


def all_faults(job: Job) -> list[Fault]:
    """Every cross-field fault of a job, whole or salvaged."""
    return list(_found(job))


def _found(job: Job) -> Iterator[Fault]:
    members = Members.of(job)
    yield from id_faults(job)
    yield from stem_faults(job)
    yield from attachment_faults(job)
    yield from limb_faults(job, members)
    yield from decay_faults(job, members)
    yield from contact_faults(job, members)
    yield from progress_faults(job, members)
    yield from wanted_faults(job, members)
    yield from site_faults(job)
    yield from out_faults(job)
    yield from standing_faults(job)
