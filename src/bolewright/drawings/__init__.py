"""Drawings: results placed and rounded on a sheet of SVG. Nothing here computes mechanics."""

from bolewright.drawings.chart import load_chart
from bolewright.drawings.elevation import elevation
from bolewright.drawings.plan_view import plan_view
from bolewright.drawings.section import section_view
from bolewright.drawings.strip import step_strip, step_strips
from bolewright.drawings.trial import trial

__all__ = ["elevation", "load_chart", "plan_view", "section_view", "step_strip", "step_strips", "trial"]
