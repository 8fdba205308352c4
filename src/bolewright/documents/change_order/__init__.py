"""The change order: what is different, why it was not seen, what it costs; signed before work goes on."""

from bolewright.documents.change_order.data import lacking, sections
from bolewright.documents.paper import Paper

PAPER = Paper(
    name="change-order",
    title="Change order",
    folder="change_order",
    whom="Signed before the changed work goes on.",
    why="what changed, why, and what it costs",
    lacking=lacking,
    sections=sections,
    uses=("weigh", "cuts", "out"),
    signs=True,
    one_leaf=True,
)
