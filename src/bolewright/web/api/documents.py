"""The job document between JSON and the store, the same one the command line reads."""

from __future__ import annotations

import math
from datetime import date, datetime, time
from typing import Any

from bolewright.job.faults import Fault, JobFaults
from bolewright.job.guards import LARGEST_FILE, text_of
from bolewright.job.read import from_tables
from bolewright.job.syntax import tables_of
from bolewright.store.edits import Tables

NOT_JSON = 'A job in JSON is one object: { "schema": 1, "job": ..., "tree": ... }.'


def as_json(value: Any) -> Any:
    """Plain tables as JSON can hold them: days and times as text, and numbers that are none."""
    if isinstance(value, dict):
        return {str(key): as_json(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [as_json(item) for item in value]
    if isinstance(value, date | datetime | time):
        return value.isoformat()
    return str(value) if isinstance(value, float) and not math.isfinite(value) else value


def document_in(body: bytes, draft: bool) -> Tables:
    """The document sent. Raises JobFaults with all that is wrong in it; a draft may be faulty."""
    if len(body) > LARGEST_FILE:
        raise _refused("This job is too large: a job has a few kB.")
    text = text_of(body)
    if not text.lstrip().startswith("{"):
        raise _refused(NOT_JSON)
    document: Tables = _given(tables_of(text))
    _encodable(document)
    if not draft:
        from_tables(document)
    return document


def _given(value: Any) -> Any:
    """null says the same as leaving it out."""
    if isinstance(value, dict):
        return {key: _given(item) for key, item in value.items() if item is not None}
    if isinstance(value, list):
        if None in value:
            raise _refused("A list in this job has null in it: leave out what is not known.")
        return [_given(item) for item in value]
    return value


def _encodable(value: Any) -> None:
    """Half a character, as JSON can spell it, is kept by no database."""
    if isinstance(value, dict):
        for key, item in value.items():
            _encodable(key)
            _encodable(item)
    elif isinstance(value, list):
        for item in value:
            _encodable(item)
    elif isinstance(value, str):
        try:
            value.encode("utf-8")
        except UnicodeEncodeError:
            raise _refused("A text in this job has half a character in it: write it again.") from None


def _refused(sentence: str) -> JobFaults:
    return JobFaults([Fault("", sentence)])
