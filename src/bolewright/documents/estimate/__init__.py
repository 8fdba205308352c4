"""The estimate: what the job is expected to cost, line by line and part by part, as a range."""

from bolewright.documents.estimate.data import lacking, sections
from bolewright.documents.paper import Paper

PAPER = Paper(
    name="estimate",
    title="Estimate",
    folder="estimate",
    whom="What we expect it to cost, and why. Ask about anything in it before you sign.",
    why="expected cost by parts, as a range",
    lacking=lacking,
    sections=sections,
    uses=("weigh", "cuts", "out"),
    signs=True,
)
