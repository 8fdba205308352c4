"""The contacts of a job: declared supports and lines, and where the tree would land."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from bolewright.core.base.errors import BadInput
from bolewright.core.base.vectors import UP, Vector, twelve_oclock, unit
from bolewright.core.contact.supports import Contact
from bolewright.core.tree.assembly import Assembly, Place, place
from bolewright.core.tree.spec import STEM
from bolewright.job.model import Job, Line, Support
from bolewright.planning import defaults
from bolewright.planning.results import FilledIn
from bolewright.planning.site import Site

NONE = np.zeros(3)
NEAR_DECLARED = 0.4  # m: a declared support stands for possible contacts this close along the member
SMALLEST_GAP = 0.01  # m: what the numbers say touches, but nobody declared


def split_places(job: Job) -> tuple[tuple[str, float], ...]:
    """Where the members must be split so that supports and lines sit at segment ends."""
    places = [(s.member, s.at.likely) for s in job.support]
    places += [(line.member, line.at.likely) for line in job.line]
    return tuple(places)


def declared(job: Job, assembly: Assembly, site: Site, filled: list[FilledIn]) -> list[Contact]:
    """The supports of the job, two contacts for a saddle."""
    out: list[Contact] = []
    for _index, support in enumerate(job.support):
        out.extend(_support(support, f'support["{support.id}"]', assembly, site, filled))
    return out


def _support(support: Support, path: str, assembly: Assembly, site: Site, filled: list[FilledIn]) -> list[Contact]:
    where = place(assembly, support.member, support.at.likely, f"{path}.at")
    surface = defaults.SURFACES[support.on]
    normal = _normal(support, where, site, path)
    gap = support.gap.likely if support.gap is not None else 0.0
    friction = support.friction
    contact = Contact(
        id=support.id,
        kind=support.on,
        member=support.member,
        at=support.at.likely,
        segment=_carrier(where, support.at.likely, support.member),
        fraction=1.0,
        point=where.point - normal * where.diameter / 2.0,
        force=UP,
        couple=NONE,
        normal=normal,
        high=np.inf if normal[2] > 0.1 else 0.0,
        give=1.0 / _stiffness(support, surface, path, filled),
        give_spread=0.05 if support.stiffness is not None else surface.spread,
        misfit=surface.misfit,
        gap=gap,
        touching=gap <= 0.0,
        building=surface.building,
        limit=support.limit.likely if support.limit is not None else None,
        tolerance=support.tolerance.likely if support.tolerance is not None else None,
        mu_low=friction.low if friction is not None else surface.mu_low,
        mu_high=friction.high if friction is not None else surface.mu_high,
        feel=support.feel or "",
    )
    if support.width is None:
        return [contact]
    return _saddle(contact, where, support.width.likely)


def _saddle(contact: Contact, where: Place, width: float) -> list[Contact]:
    """Two points side by side square to the stem, each half as stiff."""
    aside = unit(np.cross(UP, where.axis))
    halves = [contact.point + aside * width / 2.0, contact.point - aside * width / 2.0]
    return [replace(contact, point=p, give=2.0 * contact.give) for p in halves]


def _stiffness(support: Support, surface: defaults.Surface, path: str, filled: list[FilledIn]) -> float:
    if support.stiffness == "rigid":
        return defaults.RIGID
    if support.stiffness is not None:
        return support.stiffness.likely
    source = defaults.STIFFNESS_SOURCE
    filled.append(
        FilledIn(
            f"{path}.stiffness",
            f"{surface.stiffness / 1e3:.0f} N/mm, within a factor of {np.exp(1.645 * surface.spread):.1f}",
            f"how much a {support.on} gives under load",
            source.source,
            source.status,
            f"{surface.stiffness / 175.12684:,.0f} lb/in, within a factor of {np.exp(1.645 * surface.spread):.1f}",
        )
    )
    return surface.stiffness


def _normal(support: Support, where: Place, site: Site, path: str) -> Vector:
    if isinstance(support.normal, tuple):
        return unit(support.normal)
    edge = twelve_oclock(where.axis)  # over an edge the push is square to the wood
    if support.normal == "up" or support.on == "ground":
        return UP
    if support.on != "roof":
        return edge
    roof = site.roof_at(where.point)
    if roof is None:
        if support.normal == "square to roof":
            raise BadInput("There is no building under this support to be square to.", f"{path}.normal")
        return edge
    normal = roof.normal_at(float(where.point[0]), float(where.point[1]))
    return edge if normal is UP else normal


def _carrier(where: Place, at: float, member: str) -> int:
    """The segment that ends at the place; at the butt itself there is none."""
    return -1 if member == STEM and at <= 1e-6 else where.segment


def lines(job: Job, assembly: Assembly) -> list[Contact]:
    """The lines of the job: they pull only, and were made fast after the tree came to rest."""
    return [_line(line, f'line["{line.id}"]', assembly) for line in job.line]


def _line(line: Line, path: str, assembly: Assembly) -> Contact:
    where = place(assembly, line.member, line.at.likely, f"{path}.at")
    anchor = np.array([line.anchor.forward.likely, -line.anchor.right.likely, line.anchor.height.likely])
    if float(np.linalg.norm(anchor - where.point)) < 0.1:
        raise BadInput("The anchor is at the tree itself; give where the line goes to.", f"{path}.anchor")
    pull = unit(anchor - where.point)
    most = line.limit.likely if line.limit is not None else np.inf
    fixed = line.pull.likely if line.pull is not None else None
    return Contact(
        id=line.id,
        kind=line.kind,
        member=line.member,
        at=line.at.likely,
        segment=_carrier(where, line.at.likely, line.member),
        fraction=1.0,
        point=where.point,
        force=UP * float(pull[2]),
        couple=NONE,
        normal=pull,
        low=0.0 if fixed is None else 0.999 * fixed,
        high=most if fixed is None else fixed,
        give=1.0 / defaults.ROPE,
        give_spread=0.5,
        misfit=0.0,
        gap=0.0,
        touching=fixed is not None,
        limit=line.limit.likely if line.limit is not None else None,
        mu_low=0.0,
        mu_high=0.0,
    )


def possible(
    job: Job, assembly: Assembly, site: Site, stem_places: list[tuple[str, float]], notes: list[str]
) -> list[Contact]:
    """Limb tips and places along the stem's underside over ground, roof or something to protect, with their gaps."""
    found: list[Contact] = []
    for member in assembly.members:
        spots = stem_places if member == STEM else [(member, assembly.length_of(member))]
        for name, at in spots:
            if _declared_near(job, member, at):
                continue
            contact = _possible(name, member, at, assembly, site, notes)
            if contact is not None:
                found.append(contact)
    return found


def _declared_near(job: Job, member: str, at: float) -> bool:
    return any(s.member == member and abs(s.at.likely - at) < NEAR_DECLARED for s in job.support)


def _possible(label: str, member: str, at: float, assembly: Assembly, site: Site, notes: list[str]) -> Contact | None:
    where = place(assembly, member, at)
    height, kind, name = site.under(where.point)
    radius = where.diameter / 2.0
    gap = float(where.point[2]) - radius - height
    if member == STEM and at <= 1e-6:
        return None
    if gap < SMALLEST_GAP:
        if gap < -0.05:
            notes.append(
                f"By the measurements {label} is {-gap:.2f} m below the top of {name}: it touches or is "
                "driven in, but no support is entered there."
            )
        gap = SMALLEST_GAP
    surface = defaults.SURFACES["roof" if kind == "roof" else "ground"]
    return Contact(
        id=f"{label} over {name}",
        kind="possible",
        member=member,
        at=at,
        segment=_carrier(where, at, member),
        fraction=1.0,
        point=where.point - UP * radius,
        force=UP,
        couple=NONE,
        normal=UP,
        give=1.0 / surface.stiffness,
        give_spread=surface.spread,
        misfit=0.0,
        gap=gap,
        touching=False,
        building=kind == "roof",
        mu_low=surface.mu_low,
        mu_high=surface.mu_high,
    )
