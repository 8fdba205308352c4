"""The lift plan: every piece that is let down or lifted, its gear, and who gives signals."""

from bolewright.documents.lift_plan.data import lacking, sections
from bolewright.documents.paper import Paper

PAPER = Paper(
    name="lift-plan",
    title="Lift plan",
    folder="lift_plan",
    whom="For everything that hangs: on a line or on a hook.",
    why="pieces that hang, gear, margins, signals",
    lacking=lacking,
    sections=sections,
    uses=("weigh", "cuts", "out"),
    one_leaf=True,
)
