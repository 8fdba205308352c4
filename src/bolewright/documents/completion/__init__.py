"""Completion and hand-over: what was done and left, and what keeps people out until somebody has looked."""

from bolewright.documents.completion.data import lacking, sections
from bolewright.documents.paper import Paper

PAPER = Paper(
    name="completion",
    title="Completion and hand-over",
    folder="completion",
    whom="What was done, what was not, and what is still not made good.",
    why="what was done, left, and is still dangerous",
    lacking=lacking,
    sections=sections,
    uses=("weigh",),
    signs=True,
    one_leaf=True,
)
