"""The insurer's pack: one paper with contents and page numbers, and everything as data in one file with hashes."""

from bolewright.documents.insurer_pack.chapters import chapters
from bolewright.documents.insurer_pack.data import lacking, sections
from bolewright.documents.paper import Paper

PAPER = Paper(
    name="insurer-pack",
    title="Insurer's pack",
    folder="insurer_pack",
    whom="What was found, what was done, why, and what it cost.",
    why="all of it in one paper with contents, for adjuster and customer",
    lacking=lacking,
    sections=sections,
    uses=("weigh", "hold", "cuts", "out"),
    chapters=chapters,
)
