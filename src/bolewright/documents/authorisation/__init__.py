"""The work authorisation: what may be started, on whose word, at what rates and up to which sum."""

from bolewright.documents.authorisation.data import lacking, sections
from bolewright.documents.paper import Paper

PAPER = Paper(
    name="work-authorisation",
    title="Work authorisation",
    folder="authorisation",
    whom="Read it whole before signing. You get a copy.",
    why="leave to start, on whose word, at what rates, up to which sum",
    lacking=lacking,
    sections=sections,
    uses=("weigh", "cuts", "out"),
    signs=True,
    one_leaf=True,
)
