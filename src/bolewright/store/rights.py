"""Roles and what each may do: the one table the pages and the JSON interface are held to."""

from __future__ import annotations

from typing import Literal

Role = Literal["owner", "office", "crew", "viewer"]
Right = Literal["look", "stop", "self", "work", "share", "people"]

RIGHTS: dict[Right, str] = {
    "look": "see jobs, drawings, photographs and papers",
    "stop": "stop the work",
    "self": "change the own password, make and revoke own keys",
    "work": "open jobs, measure, photograph, work out and take an order, tick, observe, let the work go on",
    "share": "give out and revoke links that show one job to somebody outside",
    "people": "invite people, change their role, disable them",
}
MAY: dict[Role, frozenset[Right]] = {
    "viewer": frozenset({"look", "stop", "self"}),
    "crew": frozenset({"look", "stop", "self", "work"}),
    "office": frozenset({"look", "stop", "self", "work", "share"}),
    "owner": frozenset(RIGHTS),
}
ROLES: tuple[Role, ...] = ("owner", "office", "crew", "viewer")


def may(role: str, right: Right) -> bool:
    """Whether a role holds a right; a role that is not one of ours holds none."""
    return right in MAY.get(role, frozenset())  # type: ignore[call-overload]
