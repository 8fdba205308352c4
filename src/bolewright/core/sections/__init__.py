"""Cross-sections of stems and limbs: sound, hollow, open, off-centre and measured."""

from bolewright.core.sections.kept import (
    FormulaLoss,
    Kept,
    coder_loss,
    formulas_beside,
    smiley_fraedrich_loss,
    strength_kept,
    strength_kept_towards,
    wagener_loss,
    wall_mode,
)
from bolewright.core.sections.polygon import Moments, polygon_moments, polygon_section
from bolewright.core.sections.rounds import ellipse, hollow_round, off_centre, open_ring, solid_round
from bolewright.core.sections.section import Section, clock_vector
from bolewright.core.sections.shell import measured_shell, shell_depth

__all__ = [
    "FormulaLoss",
    "Kept",
    "Moments",
    "Section",
    "clock_vector",
    "coder_loss",
    "ellipse",
    "formulas_beside",
    "hollow_round",
    "measured_shell",
    "off_centre",
    "open_ring",
    "polygon_moments",
    "polygon_section",
    "shell_depth",
    "smiley_fraedrich_loss",
    "solid_round",
    "strength_kept",
    "strength_kept_towards",
    "wagener_loss",
    "wall_mode",
]
