"""Tables of the store."""

from bolewright.store.models.day import Answer, LogEntry
from bolewright.store.models.jobs import KeptJob, Revision
from bolewright.store.models.photos import Photo, Waiver

__all__ = ["Answer", "KeptJob", "LogEntry", "Photo", "Revision", "Waiver"]
