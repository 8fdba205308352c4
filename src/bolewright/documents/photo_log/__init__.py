"""The photo log: every photograph with when, who, what and the hash of its original."""

from bolewright.documents.paper import Paper
from bolewright.documents.photo_log.data import lacking, sections

PAPER = Paper(
    name="photo-log",
    title="Photo log",
    folder="photo_log",
    whom="Every photograph with its hash; originals are kept as they came.",
    why="photographs with hashes",
    lacking=lacking,
    sections=sections,
)
