"""What every table of the job document has in common."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Table(BaseModel):
    """A table: fields not known are refused, nothing changes after reading, `model_fields_set` tells what was given."""

    model_config = ConfigDict(extra="forbid", frozen=True, use_attribute_docstrings=False)
