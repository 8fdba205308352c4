"""Tables of the store."""

from bolewright.store.models.day import Answer, LogEntry
from bolewright.store.models.entries import TakenEntry
from bolewright.store.models.jobs import KeptJob, Revision
from bolewright.store.models.people import Invitation, Key, PeopleEntry, Person, SignInTry
from bolewright.store.models.photos import Mark, Photo, PhotoNote, Shown, Waiver
from bolewright.store.models.shares import Share, ShareOpening
from bolewright.store.models.signed import SignedPaper
from bolewright.store.models.todo import ToDo

__all__ = [
    "Answer",
    "Invitation",
    "KeptJob",
    "Key",
    "LogEntry",
    "Mark",
    "PeopleEntry",
    "Person",
    "Photo",
    "PhotoNote",
    "Revision",
    "Share",
    "ShareOpening",
    "Shown",
    "SignInTry",
    "SignedPaper",
    "TakenEntry",
    "ToDo",
    "Waiver",
]  # fmt: skip
