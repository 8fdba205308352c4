"""Sentences of core, given their place in the job."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from bolewright.core.base.errors import BadInput


@contextmanager
def at_path(path: str) -> Iterator[None]:
    """A fault of core found inside is said again with the place of the value in the job."""
    try:
        yield
    except BadInput as fault:
        raise BadInput(fault.sentence, fault.path or path) from fault
