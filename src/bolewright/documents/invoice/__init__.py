"""The invoice: what was worked and used, line by line, split by part."""

from bolewright.documents.invoice.data import lacking, sections
from bolewright.documents.paper import Paper

PAPER = Paper(
    name="invoice",
    title="Invoice",
    folder="invoice",
    whom="From hours worked and lines entered; split by part.",
    why="the bill, split by part",
    lacking=lacking,
    sections=sections,
    uses=("weigh", "cuts", "out"),
)
