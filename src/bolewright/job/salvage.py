"""What can still be read of a faulty job, so that its other faults are found in the same go.

Values that cannot be read are None, whatever the model says; only the checks in `checks` may be given such a job.
"""

from __future__ import annotations

from functools import cache
from typing import Any, cast

from pydantic import TypeAdapter, ValidationError

from bolewright.job.model import Job
from bolewright.job.shape import Slot, slots
from bolewright.job.table import Table


def salvage(raw: dict[str, Any]) -> Job:
    """The job with None for everything that was refused or is missing."""
    return cast(Job, _table(Job, raw))


def _table(model: type[Table], raw: Any) -> Table:
    given = raw if isinstance(raw, dict) else {}
    values = {slot.attribute: _value(slot, given) for slot in slots(model).values()}
    # by attribute, past the aliases, and without a word about what is missing
    table = model.model_construct()
    table.__dict__.update(values)
    return table


def _value(slot: Slot, given: dict[str, Any]) -> Any:
    if slot.key not in given:
        default = slot.info.get_default(call_default_factory=True, validated_data={})
        return None if slot.info.is_required() else default
    value = given[slot.key]
    if slot.kind == "table" and slot.inside is not None:
        return _table(slot.inside, value)
    if slot.kind == "list of tables" and slot.inside is not None:
        return tuple(_table(slot.inside, item) for item in value) if isinstance(value, list) else ()
    try:
        return _adapter(slot.hint).validate_python(value)
    except ValidationError:
        return () if slot.kind == "list of values" else None


@cache
def _adapter(hint: Any) -> TypeAdapter[Any]:
    return TypeAdapter(hint)
