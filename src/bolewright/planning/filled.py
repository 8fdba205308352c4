"""Values the job document fills in by itself, in both unit systems, for the list of what was filled in."""

from __future__ import annotations

from collections.abc import Callable

from bolewright.job.defaults import filled_in
from bolewright.job.model import Job
from bolewright.job.quantity import Dimension, Quantity
from bolewright.planning.both import in_metres, three_figures
from bolewright.planning.results import FilledIn

_METRIC: dict[Dimension, Callable[[float], str]] = {
    Dimension.LENGTH: in_metres,
    Dimension.MASS: lambda value: f"{three_figures(value)} kg",
    Dimension.SPEED: lambda value: f"{value:.0f} m/s",
}


def job_defaults(job: Job) -> tuple[FilledIn, ...]:
    """What the job document filled in, none of it with a published source."""
    return tuple(as_filled(row.path, row.value, row.why, "judgement", row.status) for row in filled_in(job))


def as_filled(path: str, value: Quantity | str, why: str, source: str, status: str) -> FilledIn:
    """A default of the job document, as it prints on a sheet of either unit system."""
    metric, written = metric_text(value), str(value)
    return FilledIn(path, metric, why, source, status, written if written != metric else "")


def metric_text(value: Quantity | str) -> str:
    """A filled-in value in metric units; they are written in US ones. Words, shares and times have no others."""
    if isinstance(value, str) or value.dimension not in _METRIC or value.likely == 0.0:
        return str(value)
    return _METRIC[value.dimension](value.likely)


def as_set(job: Job, units: str, path: str) -> str:
    """A limit or another value of the job, "limits.movement": as it was written, or its default in these units."""
    table, field = path.split(".")
    holder = getattr(job, table)
    value = getattr(holder, field)
    return metric_text(value) if units == "metric" and field not in holder.model_fields_set else str(value)


def as_set_in_both(job: Job, path: str) -> str:
    """The same for sentences that stand in either unit system, a default as "25 mph (11 m/s)"."""
    us, metric = (as_set(job, units, path) for units in ("us", "metric"))
    return us if us == metric else f"{us} ({metric})"
