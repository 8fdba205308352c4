"""The work order: the crew's sheet for the day."""

from bolewright.documents.paper import Paper
from bolewright.documents.work_order.data import lacking, sections

PAPER = Paper(
    name="work-order",
    title="Work order",
    folder="work_order",
    whom="For the crew: where, with what, in which order, and how it goes out.",
    why="the crew's sheet: gear, order, way out",
    lacking=lacking,
    sections=sections,
    uses=("weigh", "hold", "cuts", "out"),
)
