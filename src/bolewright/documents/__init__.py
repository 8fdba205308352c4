"""Results and drawings to paper, one folder per document."""

from bolewright.documents.briefing import briefing
from bolewright.documents.cause import cause
from bolewright.documents.comparison import comparison
from bolewright.documents.inspection import inspection
from bolewright.documents.notice import delivery_log, notice

__all__ = ["briefing", "cause", "comparison", "delivery_log", "inspection", "notice"]
