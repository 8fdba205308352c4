"""Results and drawings to paper, one folder per document."""

from bolewright.documents.briefing import briefing

__all__ = ["briefing"]
