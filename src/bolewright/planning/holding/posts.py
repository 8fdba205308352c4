"""A post under the stem as the engine sees it: two places beside each other, chocked, that push up."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bolewright.core.base.vectors import UP, twelve_oclock, unit
from bolewright.core.contact.supports import Contact
from bolewright.core.tree.assembly import place
from bolewright.core.tree.spec import STEM
from bolewright.planning import defaults
from bolewright.planning.holding.body import Body
from bolewright.planning.holding.contacts import NONE

LOWEST, HIGHEST = 0.35, 4.5  # m of room between ground and wood for a post or crib (common practice)
CRADLE = (
    0.5  # of the stem's diameter between the chocks on the head, which keep the stem from rolling (common practice)
)


@dataclass(frozen=True)
class PropPlace:
    """A place for a prop: under the stem at `at`, with this much height to fill; chocked on both sides of the head."""

    at: float
    height: float
    sides: tuple[Contact, Contact]


def post_under(body: Body, name: str, at: float) -> PropPlace | None:
    """A post under the stem at `at` [m] along it; None where there is no ground with room for one."""
    where = place(body.assembly, STEM, at)
    surface, kind, _ = body.site.under(where.point)
    underside = float(where.point[2]) - where.diameter / 2.0
    if kind != "ground" or not LOWEST <= underside - surface <= HIGHEST:
        return None
    practice = defaults.SURFACES["prop"]
    contact = Contact(
        id=name,
        kind="prop",
        member=STEM,
        at=at,
        segment=where.segment,
        fraction=float(_fraction(body, where.segment, at)),
        point=where.point - UP * where.diameter / 2.0,
        force=UP,
        couple=NONE,
        normal=twelve_oclock(where.axis),
        give=1.0 / practice.stiffness,
        give_spread=practice.spread,
        misfit=0.0,
        gap=0.0,
        touching=False,
        mu_low=practice.mu_low,
        mu_high=practice.mu_high,
    )
    aside = unit(np.cross(UP, where.axis)) * CRADLE * where.diameter / 2.0
    left, right = (replace(contact, point=contact.point + side * aside, give=2.0 * contact.give) for side in (1, -1))
    return PropPlace(at, underside - surface, (left, right))


def _fraction(body: Body, segment: int, at: float) -> float:
    start, end = body.assembly.s_start[segment], body.assembly.s_end[segment]
    return float((at - start) / (end - start))
