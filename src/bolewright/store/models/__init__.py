"""Tables of the store."""

from bolewright.store.models.day import Answer, LogEntry
from bolewright.store.models.jobs import KeptJob, Revision
from bolewright.store.models.people import Invitation, Key, PeopleEntry, Person, SignInTry
from bolewright.store.models.photos import Photo, Waiver
from bolewright.store.models.shares import Share, ShareOpening

__all__ = [
    "Answer",
    "Invitation",
    "KeptJob",
    "Key",
    "LogEntry",
    "PeopleEntry",
    "Person",
    "Photo",
    "Revision",
    "Share",
    "ShareOpening",
    "SignInTry",
    "Waiver",
]  # fmt: skip
