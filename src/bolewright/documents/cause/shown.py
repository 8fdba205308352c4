"""What a test made before, at the place of the break, would have shown."""

from __future__ import annotations

from bolewright.documents.standing import words as w
from bolewright.drawings import units as u
from bolewright.drawings.standing_words import compass
from bolewright.drawings.units import Units
from bolewright.planning.standing.looked import WouldHaveShown
from bolewright.planning.standing.results import StandResult


def would_have_shown(result: StandResult, units: Units) -> list[dict[str, str]]:
    """A row for each set of holes tried."""
    back = result.look_back
    return [_row(shown, units) for shown in back.would_have_shown] if back is not None else []


def _row(shown: WouldHaveShown, units: Units) -> dict[str, str]:
    count = len(shown.sides_deg)
    return {
        "holes": f"{count} hole{'s' if count > 1 else ''}",
        "sides": ", ".join(compass(side).split(" ")[0] for side in shown.sides_deg),
        "met": ", ".join(u.size(depth, units) for depth in shown.depths_m),
        "share": f"{shown.thinnest_share:.2f}",
        "shell_rule": "past" if shown.over_shell_rule else "within",
        "loss": w.percent(shown.loss),
        "loss_rule": "past" if shown.over_loss_rule else "within",
    }
