"""The call sheet: what was asked on the telephone, who goes, and the card that tells the caller what to do."""

from bolewright.documents.call_sheet.data import sections
from bolewright.documents.paper import Paper

PAPER = Paper(
    name="call-sheet",
    title="Call sheet",
    folder="call_sheet",
    whom="Taken on the telephone. The last page is for the caller.",
    why="what was asked and answered, and what to do until the crew comes",
    lacking=lambda given: [],
    sections=sections,
)
