"""What happened, as observed; and what helps the customer with the statement of loss the insurer may ask for."""

from __future__ import annotations

from bolewright.documents.given import Given
from bolewright.documents.parts import NOT_ENTERED, Section, facts, points, section, words
from bolewright.drawings import units as u
from bolewright.job.failure import Failure
from bolewright.job.paperwork import Call

ASKED = (
    "Time and cause of the loss, as far as known",
    "Who has an interest in the property: owners, lender",
    "Other insurance that may answer for the same loss",
    "What was damaged, with repair estimates and plans",
    "Receipts for what was spent to stop more damage: this invoice, tarp, boarding",
    "Receipts for having to live elsewhere",
    "Photographs before, during and after, as they came from the camera",
)


def loss(given: Given) -> list[Section]:
    """Observed first, measured second, opinion last and apart."""
    failure = given.job.failure
    if failure is None:
        return [
            _observed(given),
            section("Cause", words("Break, roots and wind were not written down for this job.")),
        ]
    opinion = section(
        "Opinion, kept apart",
        words(failure.opinion or NOT_ENTERED),
        plain="What the assessor makes of it. Others may see it otherwise.",
    )
    return [_observed(given), _measured(failure, given.units), opinion]


def _observed(given: Given) -> Section:
    call, job = given.job.call or Call(), given.job.job
    return section(
        "As observed",
        facts(
            ("When, weather", call.happened),
            ("It hit", call.hit),
            ("Water", call.water),
            ("Told by", job.caller),
            ("Taken down", call.at),
        ),
        words(job.notes) if job.notes else None,
        plain="What somebody saw and said. Nothing here is concluded.",
    )


def _measured(failure: Failure, units: u.Units) -> Section:
    gust = f"{u.speed(failure.gust.likely, units)}, {failure.gust_is}" if failure.gust is not None else None
    return section(
        "As measured",
        facts(
            ("What gave way", failure.kind),
            ("Day", failure.date),
            ("Height of the break", failure.height),
            ("Diameter there", failure.diameter),
            ("Sound wood", failure.shell),
            ("Roots rotten or cut", failure.roots_rotten),
            ("Surface", failure.surface),
            ("Wind recorded", gust),
            ("Station", failure.station),
        ),
        points(failure.evidence, "no evidence listed yet"),
        plain="Measured or taken from a record.",
    )


def own_statement(_given: Given) -> list[Section]:
    """Papers an insurer commonly asks the insured for."""
    return [
        section(
            "For your own statement of loss",
            points(ASKED),
            words(
                "Policies commonly ask for a signed statement within a set number of days of being asked: read "
                "yours (common practice; lawinsider.com, duties after loss, policies differ)."
            ),
            plain="This is your paper to your insurer, not ours. The list is what is commonly asked.",
            wide=True,
        )
    ]
