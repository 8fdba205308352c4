"""The job hazard analysis: hazards of the place and of each step, with what is done about them."""

from bolewright.documents.hazard_analysis.data import lacking, sections
from bolewright.documents.paper import Paper

PAPER = Paper(
    name="job-hazard-analysis",
    title="Job hazard analysis",
    folder="hazard_analysis",
    whom="Hazard by hazard and step by step: what is done about it, and who.",
    why="hazards with what is done about each",
    lacking=lacking,
    sections=sections,
    uses=("hold", "cuts"),
)
