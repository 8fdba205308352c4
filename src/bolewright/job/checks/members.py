"""Stem and limbs as the checks see them: how long, how thick where, and which names there are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any

from bolewright.job.faults import Fault, entry, ordinal, shown
from bolewright.job.model import STEM, Job
from bolewright.job.quantity import Quantity

SLACK = 1e-6  # m, so that "31 ft" is not beyond "372 in"


def likely(quantity: Quantity | None) -> float | None:
    """The likely value, None when it is not known."""
    return None if quantity is None else quantity.likely


@dataclass(frozen=True)
class Member:
    """The stem or a limb. Points are (distance, diameter) in rising order, empty when not enough could be read."""

    id: str
    length: float | None
    length_text: str
    points: tuple[tuple[float, float], ...]

    def diameter(self, at: float) -> float | None:
        """The diameter at a distance along it, linear between points, None when it is not known."""
        if len(self.points) < 2:
            return None
        for (s0, d0), (s1, d1) in zip(self.points, self.points[1:], strict=False):
            if at <= s1 or (s1, d1) == self.points[-1]:
                share = min(max((at - s0) / (s1 - s0), 0.0), 1.0)
                return d0 + share * (d1 - d0)
        return None


@dataclass(frozen=True)
class Members:
    """Every member by its name."""

    by_id: dict[str, Member]

    @classmethod
    def of(cls, job: Job) -> Members:
        """The members of a job; where two limbs share a name the first stands."""
        limbs = (job.tree.limb if job.tree else ()) or ()
        found = {STEM: _stem(job)}
        for limb in limbs:
            if limb.id is not None:
                found.setdefault(limb.id, _limb(limb))
        return cls(found)

    def unknown(self, name: str) -> str | None:
        """The sentence about a member that is not there, None when it is."""
        if name in self.by_id:
            return None
        near = get_close_matches(name, self.by_id, n=1, cutoff=0.5)
        meant = f' Did you mean "{near[0]}"?' if near else ""
        return f"There is no stem or limb called {shown(name)}.{meant or f' There are {self._listed()}.'}"

    def beyond(self, name: str, at: Quantity | None) -> str | None:
        """The sentence about a distance that runs off the end of a member, None when it does not."""
        member = self.by_id.get(name)
        if member is None or member.length is None or at is None or at.likely <= member.length + SLACK:
            return None
        what = "the stem" if name == STEM else f"limb {shown(name)}"
        return f'"{at.text}" is beyond the end of {what}, which is "{member.length_text}" long: check both.'

    def _listed(self) -> str:
        names = list(self.by_id)
        return ", ".join(shown(name) for name in names[:6]) + (" and more" if len(names) > 6 else "")


def _stem(job: Job) -> Member:
    stations = [s for s in ((job.tree.stem if job.tree else ()) or ()) if s.at is not None]
    if not stations:
        return Member(STEM, None, "", ())
    last = max(stations, key=lambda station: station.at.likely)
    if last.at.likely <= SLACK:  # one station, or all at the butt: that is said elsewhere, and once
        return Member(STEM, None, "", ())
    points = {station.at.likely: station.diameter.likely for station in stations if station.diameter is not None}
    return Member(STEM, last.at.likely, last.at.text, tuple(sorted(points.items())))


def _limb(limb: Any) -> Member:
    length, base = likely(limb.length), likely(limb.diameter)
    if length is None or base is None:
        return Member(limb.id, length, limb.length.text if limb.length else "", ())
    tip = likely(limb.tip_diameter)
    return Member(limb.id, length, limb.length.text, ((0.0, base), (length, base if tip is None else tip)))


def fault_in(table: str, index: int, ids: Sequence[Any], field: str, sentence: str) -> Fault:
    """A fault in one field of one table of a list; a table without an id is named by its place as well."""
    path = entry(table, index, ids)
    where = f"{ordinal(index)} {table}: " if path.endswith(f"[{index}]") else ""
    return Fault(f"{path}.{field}" if field else path, f"{where}{sentence}")
