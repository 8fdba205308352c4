"""A standing tree written as one that lies: what was carried over, and what has to be measured anew."""

from __future__ import annotations

from pathlib import Path

from bolewright.cli.show import page as sheet
from bolewright.planning.standing.fallen import Fallen


def show(file: Path, found: Fallen) -> None:
    """Print what was carried over, then what to ask, what is needed first."""
    page = sheet.console()
    sheet.line(page, f"Written: {file}")
    for words in found.carried:
        sheet.line(page, f"carried over: {words}", indent=2)
    sheet.heading(page, "To be measured or found out on the tree as it lies")
    for ask in sorted(found.asks, key=lambda item: not item.needed):
        needed = "" if ask.needed else " (filled in or taken as it was until then)"
        sheet.line(page, f"{ask.path}: {ask.sentence}{needed}", indent=2)
    sheet.heading(page, "Mind")
    sheet.cautions(page, "cover")
