"""Ropes and slings: working load limits from breaking strength, and whether a pull is inside them."""

from __future__ import annotations

from dataclasses import dataclass

from bolewright.core.base.errors import BadInput
from bolewright.core.base.sourced import Sourced, Status


@dataclass(frozen=True)
class Used:
    """How much of a working load limit a pull takes up."""

    limit: float  # N
    share: float  # pull over limit
    words: str  # "inside the limit" | "outside the limit"
    status: Status  # the weaker of the two factors it rests on


def working_load_limit(breaking: float, efficiency: float, design_factor: float) -> float:
    """Working load limit of a rope or sling [N]: breaking strength x what the knot leaves / design factor.

    Picture: new gear in good order. Age, heat, edges and bends take more off: errs high for used gear. A tag or
    maker's limit always goes before this sum.
    Parameters: breaking [N]; efficiency [-] of knot or splice; design factor [-], 1 or more. Raises: BadInput.
    Source: definition; OSHA 29 CFR 1910.184 and ASME B30.9 use the same form.
    Checked by: tests/handbook/test_slings.py
    """
    if breaking <= 0.0 or not 0.0 < efficiency <= 1.0 or design_factor < 1.0:
        raise BadInput(
            "A working load limit needs a breaking strength above zero, an efficiency from 0 to 1 and a design "
            "factor of 1 or more."
        )
    return breaking * efficiency / design_factor


def used(
    pull: float, breaking: float, efficiency: Sourced[float], design_factor: Sourced[float], tag: float | None = None
) -> Used:
    """How much of its limit a pull takes [-], in words that never say more than inside or outside.

    Parameters: pull and breaking [N]; factors with their source; tag [N], the limit on the sling itself, goes first.
    Raises: BadInput.
    Source: as `working_load_limit`.
    Checked by: tests/handbook/test_slings.py
    """
    summed = working_load_limit(breaking, efficiency.value, design_factor.value)
    limit = summed if tag is None else min(tag, summed)
    if pull < 0.0:
        raise BadInput("A rope pulls: the pull cannot be negative.")
    weak = [factor.status for factor in (efficiency, design_factor) if factor.status is not Status.CONFIRMED]
    status = Status.MEASURED if tag is not None and tag <= summed else (weak[0] if weak else Status.CONFIRMED)
    return Used(limit, pull / limit, "inside the limit" if pull <= limit else "outside the limit", status)
