"""The weight of the tree as text."""

from __future__ import annotations

from bolewright.cli.show import page as sheet
from bolewright.cli.show.page import Units
from bolewright.drawings import units as words
from bolewright.planning.results import PieceWeight, WeighResult

COLUMNS = ("Piece", "From butt of member", "Weighs")


def show(title: str, result: WeighResult, units: Units, sources: bool = True) -> None:
    """Print the answer, the pieces, and what was filled in."""
    page = sheet.console()
    sheet.answer(page, title, f"Weighs {sheet.likely_mass(result.total_kg, units)}", good=True)
    if result.plate_kg is not None:
        sheet.line(page, f"Root plate with its soil: {sheet.likely_mass(result.plate_kg, units)}")
    sheet.line(page, f"{result.species}: {result.density_source} ({result.density_status})")
    sheet.heading(page, "Pieces")
    sheet.table(page, COLUMNS, (_row(piece, units) for piece in result.pieces))
    sheet.notes(page, result.notes)
    sheet.filled_in(page, result.filled_in if sources else (), units)


def _row(piece: PieceWeight, units: Units) -> tuple[str, str, str]:
    ends = f"{words.length(piece.start_m, units)} to {words.length(piece.end_m, units)}"
    return piece.id, ends, words.mass_range(piece.mass_kg, units)
