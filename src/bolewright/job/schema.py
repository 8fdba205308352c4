"""The job document as a JSON schema, for editors and for programs that write jobs."""

from __future__ import annotations

from typing import Any

from bolewright.job.guards import MOST
from bolewright.job.model import Job

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def job_schema() -> dict[str, Any]:
    """The schema under Draft 2020-12. It says what a table may hold; whether values agree with each other it cannot."""
    schema = Job.model_json_schema(by_alias=True)
    for keys, (most, _) in MOST.items():
        _table(schema, keys[:-1])["properties"][keys[-1]]["maxItems"] = most
    return {"$schema": DIALECT, **schema, "title": "Bolewright job, schema 1"}


def _table(schema: dict[str, Any], keys: tuple[str, ...]) -> dict[str, Any]:
    """The part of the schema for the table at these keys."""
    here = schema
    for key in keys:
        held = here["properties"][key]
        reference = held["$ref"] if "$ref" in held else next(one["$ref"] for one in held["anyOf"] if "$ref" in one)
        here = schema["$defs"][reference.rsplit("/", 1)[-1]]
    return here
