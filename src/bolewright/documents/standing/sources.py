"""Where the numbers of a standing tree come from, how far each can be trusted, and the cautions that go with them."""

from __future__ import annotations

from typing import Any

from bolewright.core.base.sourced import Status
from bolewright.documents.briefing.sources import STATUS_MEANINGS, WEAKEST_FIRST, filled_row
from bolewright.drawings.units import Units
from bolewright.planning.standing.results import StandResult
from bolewright.reference.cautions import cautions_for

PLACES = ("standing", "law")


def sources(result: StandResult, units: Units) -> dict[str, Any]:
    """Filled-in values, the least certain first, what the status words mean, and the sources of the cautions."""
    order = [str(word) for word in WEAKEST_FIRST]
    rows = sorted(result.filled_in, key=lambda row: order.index(str(row.status)) if str(row.status) in order else -1)
    cautions = cautions_for(*PLACES)
    used = {str(row.status) for row in rows} | {str(c.status) for c in cautions} | {result.roots.status}
    return {
        "rows": [filled_row(row, units) for row in rows],
        "meanings": [[str(status), STATUS_MEANINGS[Status(status)]] for status in WEAKEST_FIRST if str(status) in used],
        "cautions": [[caution.text, caution.source, str(caution.status)] for caution in cautions],
    }


def caution_texts() -> list[str]:
    """The cautions of a standing tree."""
    return [caution.text for caution in cautions_for(*PLACES)]
