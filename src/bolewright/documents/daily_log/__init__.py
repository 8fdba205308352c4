"""The daily log: what happened and when, with room to write on."""

from bolewright.documents.daily_log.data import lacking, sections
from bolewright.documents.paper import Paper

PAPER = Paper(
    name="daily-log",
    title="Daily log",
    folder="daily_log",
    whom="What happened, when, as written down.",
    why="the day, line by line",
    lacking=lacking,
    sections=sections,
    uses=("out",),
)
