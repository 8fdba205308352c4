"""The record of a standing tree that failed, turned into the job of a tree that lies: what is carried over, what not.

A plumb tree that goes over keeps its clock positions: 6 looks along the bearing while it stands and down once it lies.
A bearing that turns out otherwise than the record's turns them all. How far it rolled as it came down nobody knows.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.errors import NotEnoughKnown
from bolewright.core.base.vectors import clock_direction, clock_of, unit
from bolewright.core.tree.spec import STEM
from bolewright.job.failure import Failure
from bolewright.job.model import Job, Limb, Station
from bolewright.job.quantity import Quantity
from bolewright.planning.standing.case import NEAR
from bolewright.planning.standing.tests import Measured, tests_of
from bolewright.planning.standing.tree import stood

Floats = NDArray[np.float64]
NOTE = "Sizes carried over from the record of the standing tree; nothing here was measured on the tree as it lies."
ATTACHED = {"roots": "root plate", "stem": "hinge", "union": "hinge", "branch": "hinge"}


@dataclass(frozen=True)
class Ask:
    """Something that has to be measured or found out anew."""

    path: str
    sentence: str
    needed: bool


@dataclass(frozen=True)
class Fallen:
    """Tables of a job document for the tree as it lies (not yet a whole job), what was carried over, what to ask."""

    tables: dict[str, Any]
    carried: tuple[str, ...]
    asks: tuple[Ask, ...]


def fallen(job: Job) -> Fallen:
    """The job of a tree that lies, from its standing record with [failure].

    Raises NotEnoughKnown without [failure], without a limb's id where a limb broke, or without the height of a break.
    """
    failure = job.failure
    if failure is None:
        raise NotEnoughKnown(
            'Write [failure] with kind = "roots" or "stem" first: what gave way decides what lies there.', "failure"
        )
    tree, carried = _limb_tree(job, failure) if failure.kind in ("union", "branch") else _stem_tree(job, failure)
    tree["attached"] = ATTACHED[failure.kind]
    if failure.fell_towards is not None:
        tree["bearing"] = f"{math.degrees(failure.fell_towards.likely) % 360.0:.1f} deg"
    tables = {"schema": 1, "job": _facts(job), "tree": tree, **_evidence(job)}
    return Fallen(tables, tuple(carried), tuple(_asks(job, failure, tree)))


def _facts(job: Job) -> dict[str, Any]:
    """Place and people; not the day, the crew or that everyone is out: those are of another day."""
    kept = job.job.model_dump(by_alias=True, exclude_unset=True, exclude_none=True)
    for name in ("date", "lead", "crew", "people_out"):
        kept.pop(name, None)
    kept["title"] = f"Down: {job.job.title}"[:300]
    kept["notes"] = "\n".join(part for part in (job.job.notes, NOTE) if part)[:10_000]
    kept["utilities"] = [{**utility, "state": "unknown"} for utility in kept.pop("utilities", ())]
    return {name: value for name, value in kept.items() if value != []}


def _evidence(job: Job) -> dict[str, Any]:
    """Inspection and failure as written: this year's inspection is the evidence now."""
    kept = {"inspection": job.inspection, "failure": job.failure}
    found = {
        name: table.model_dump(by_alias=True, exclude_unset=True, exclude_none=True, mode="json")
        for name, table in kept.items()
        if table is not None
    }
    if "inspection" in found:
        found["inspection"].pop("union", None)  # speaks of limbs by id; those on the part still standing are not here
    if "failure" in found:
        found["failure"].pop("limb", None)
    return found


def _stem_tree(job: Job, failure: Failure) -> tuple[dict[str, Any], list[str]]:
    """The tree from the break (or the ground) up, with what was carried over in words."""
    standing = stood(job)
    cut = 0.0
    if failure.kind == "stem":
        if failure.height is None:
            raise NotEnoughKnown("Say at what height above the ground the stem broke.", "failure.height")
        cut = standing.at_height(failure.height.likely)
    turn = _turn(job, failure, standing.bearing)
    tree = _common(job)
    carried = []
    stations = _stations(job, failure, cut, standing.diameter_at(cut) / standing.bark)
    if stations:
        tree["stem"] = stations
        carried.append(f"{len(stations)} stations along the stem")
    limbs = _limbs(job, cut, turn)
    if limbs:
        tree["limb"] = limbs
        carried.append(f"{len(limbs)} limbs: {', '.join(limb['id'] for limb in limbs)}")
    names = {STEM, *(limb["id"] for limb in limbs)}
    decay = [*_decay(job, names, cut, turn), *_tested(tests_of(standing).sections, job, cut, turn)]
    if decay:
        tree["decay"] = decay
        carried.append(f"{len(decay)} stretches of decay, from what was written and drilled")
    return {**tree, **_plate(job, failure)}, carried


def _common(job: Job) -> dict[str, Any]:
    kept = job.tree.model_dump(by_alias=True, exclude_unset=True, exclude_none=True)
    return {name: kept[name] for name in ("species", "density", "dbh", "moisture_note") if name in kept}


def _turn(job: Job, failure: Failure, bearing: float) -> float:
    """Hours by which every clock position of the plumb stem moves on, the way it fell against its bearing."""
    if failure.fell_towards is None:
        return 0.0
    return (failure.fell_towards.likely - bearing) * 6.0 / math.pi


def _stations(job: Job, failure: Failure, cut: float, there: float) -> list[dict[str, Any]]:
    """Stations beyond the cut, measured from it; the cut itself with its own diameter."""
    beyond = [s for s in job.tree.stem if s.at.likely >= cut - 1e-6]
    if cut <= 1e-6:
        return [{"at": s.at.text, "diameter": s.diameter.text} for s in beyond]
    like = job.tree.stem[0].at if job.tree.stem else job.tree.dbh
    assert like is not None
    butt = failure.diameter.text if failure.diameter is not None else _text(there, like)
    first = {"at": _text(0.0, like), "diameter": butt}
    return [first, *(_station(s, cut) for s in beyond if s.at.likely > cut + 0.05)]


def _station(station: Station, cut: float) -> dict[str, Any]:
    return {"at": _text(station.at.likely - cut, station.at), "diameter": station.diameter.text}


def _text(value: float, like: Quantity) -> str:
    """A length written in the units another was written in."""
    metric = "m" in like.text.replace("in", "").replace("inch", "")
    if metric:
        return f"{value:.2f} m"
    feet, inches = divmod(round(value / 0.0254, 1), 12.0)
    return f"{feet:.0f} ft {inches:.1f} in" if feet else f"{inches:.1f} in"


def _limbs(job: Job, cut: float, turn: float) -> list[dict[str, Any]]:
    """Limbs on the part that lies, with their clock positions as it lies."""
    kept: dict[str, Limb] = {}
    for limb in _in_order(job):
        if limb.on in kept or (limb.on == STEM and limb.at.likely > cut):
            kept[limb.id] = limb
    clocks = _clocks(list(kept.values()), turn)
    found = []
    for limb in job.tree.limb:
        if limb.id in kept:
            row = limb.model_dump(by_alias=True, exclude_unset=True, exclude_none=True)
            row["clock"] = clocks[limb.id]
            if limb.on == STEM and cut > 0.0:
                row["at"] = _text(limb.at.likely - cut, limb.at)
            found.append(row)
    return found


def _in_order(job: Job) -> list[Limb]:
    """Every parent before what grows on it."""
    done, left = [], list(job.tree.limb)
    names = {STEM}
    while left:
        ready = [limb for limb in left if limb.on in names]
        if not ready:
            break
        done += ready
        names |= {limb.id for limb in ready}
        left = [limb for limb in left if limb.id not in names]
    return done


def _clocks(limbs: list[Limb], turn: float, root: str = STEM) -> dict[str, float]:
    """Clock position of each limb once the tree lies: its direction as it stood, laid over with the whole tree."""
    axis = {root: np.array([0.0, 0.0, 1.0])}
    found = {}
    for limb in limbs:
        parent = axis[limb.on]
        hours = float(limb.clock) + (turn if limb.on == STEM else 0.0)
        out = clock_direction(parent, hours % 12.0)
        axis[limb.id] = unit(parent * math.cos(limb.angle.likely) + out * math.sin(limb.angle.likely))
        found[limb.id] = round(clock_of(_laid(parent), _laid(out)) * 2.0) / 2.0
    return found


def _laid(vector: Floats) -> Floats:
    """A direction of the plumb tree once it has gone over forward: up becomes forward, forward down."""
    return np.array([vector[2], vector[1], -vector[0]])


def _decay(job: Job, names: set[str], cut: float, turn: float) -> Iterator[dict[str, Any]]:
    """Stretches written down of these members, those of the stem from the cut on."""
    for decay in (d for d in job.tree.decay if d.member in names):
        row = decay.model_dump(by_alias=True, exclude_unset=True, exclude_none=True)
        if decay.member == STEM:
            if decay.to.likely <= cut + 0.05:
                continue
            if cut > 0.0:
                row |= {"from": _text(max(decay.from_.likely - cut, 0.0), decay.from_)}
                row |= {"to": _text(decay.to.likely - cut, decay.to)}
            if decay.readings:
                row["readings"] = _turned({float(c): d.text for c, d in decay.readings.items()}, turn)
        yield row


def _tested(sections: tuple[Measured, ...], job: Job, cut: float, turn: float) -> Iterator[dict[str, Any]]:
    """Every tested section as a stretch of decay a metre either way, halfway to the next test at most."""
    written = [(d.from_.likely, d.to.likely) for d in job.tree.decay if d.member == STEM]
    ordered = sorted(sections, key=lambda m: m.at)
    for n, m in enumerate(ordered):
        if any(start <= m.at <= end for start, end in written):
            continue
        low = m.at - NEAR if n == 0 else max(m.at - NEAR, (ordered[n - 1].at + m.at) / 2.0)
        high = m.at + NEAR if n == len(ordered) - 1 else min(m.at + NEAR, (ordered[n + 1].at + m.at) / 2.0)
        low = max(low, cut, *(end for start, end in written if end <= m.at), 0.0)
        high = min([high, *(start for start, end in written if start >= m.at)])
        if high <= cut + 0.05 or all(depth >= 0.98 * m.diameter / 2.0 for _, depth in m.readings):
            continue
        shells = _turned({clock: f"{100.0 * depth:.1f} cm" for clock, depth in m.readings}, turn)
        yield {"from": f"{low - cut:.2f} m", "to": f"{high - cut:.2f} m", "readings": shells}


def _turned(shells: dict[float, str], turn: float) -> dict[str, str]:
    """Depths by clock position, turned on, to a tenth of an hour."""
    moved = {f"{(clock + turn) % 12.0 or 12.0:.1f}".removesuffix(".0"): depth for clock, depth in shells.items()}
    return {"12" if clock == "0" else clock: depth for clock, depth in moved.items()}


def _plate(job: Job, failure: Failure) -> dict[str, Any]:
    standing = job.standing
    if failure.kind != "roots" or standing is None or None in (standing.plate_diameter, standing.plate_depth):
        return {}
    return {"root_plate": {"diameter": str(standing.plate_diameter), "thickness": str(standing.plate_depth)}}


def _limb_tree(job: Job, failure: Failure) -> tuple[dict[str, Any], list[str]]:
    """A limb that came off as a tree of its own: its base is the butt."""
    limb = next((limb for limb in job.tree.limb if limb.id == failure.limb), None)
    if limb is None:
        raise NotEnoughKnown(
            "Name the limb that gave way: write limb = its id, as under [[tree.limb]].", "failure.limb"
        )
    tree = _common(job)
    tree.pop("dbh", None)
    tip = limb.tip_diameter.text if limb.tip_diameter is not None else _text(limb.diameter.likely / 4.0, limb.diameter)
    tree["stem"] = [
        {"at": _text(0.0, limb.length), "diameter": limb.diameter.text},
        {"at": limb.length.text, "diameter": tip},
    ]
    own = [child for child in _in_order(job) if _grows_on(job, child, limb.id)]
    clocks = _clocks(own, 0.0, limb.id)
    rows = []
    for child in own:
        row = child.model_dump(by_alias=True, exclude_unset=True, exclude_none=True)
        row["on"] = STEM if child.on == limb.id else child.on
        rows.append({**row, "clock": clocks[child.id]})
    if rows:
        tree["limb"] = rows
    names = {limb.id, *(child.id for child in own)}
    decay = [
        {**row, "member": STEM if row["member"] == limb.id else row["member"]} for row in _decay(job, names, 0.0, 0.0)
    ]
    if decay:
        tree["decay"] = decay
    return tree, [f"{limb.id} as a stem of its own, with {len(rows)} limbs on it"]


def _grows_on(job: Job, limb: Limb, root: str) -> bool:
    parents = {item.id: item.on for item in job.tree.limb}
    here: str | None = limb.on
    for _ in parents:
        if here == root:
            return True
        here = parents.get(here or "")
    return False


def _missing_top(job: Job, failure: Failure) -> str | None:
    """A sentence where the stations carried over end well below the top of the tree."""
    if failure.kind not in ("roots", "stem") or job.standing is None or not job.tree.stem:
        return None
    last, top = job.tree.stem[-1].at, job.standing.height
    if last.likely >= 0.9 * top.likely:
        return None
    return (
        f'The stations end at "{last}" of a tree "{top}" tall: measure the stem on to its tip, or it weighs too little.'
    )


def _asks(job: Job, failure: Failure, tree: dict[str, Any]) -> Iterator[Ask]:
    """What has to be measured on the tree as it lies, what no answer comes without first."""
    if len(tree.get("stem", ())) < 2:
        yield Ask("tree.stem", "Measure the stem anew: a diameter at the butt and at the far end at least.", True)
    elif (short := _missing_top(job, failure)) is not None:
        yield Ask("tree.stem", short, True)
    yield Ask("tree.stem[*].height", "Measure the height of the stem's underside at two stations or more.", True)
    yield Ask("support", "Write a [[support]] for every place the tree rests on.", True)
    if failure.kind == "roots" and "root_plate" not in tree:
        yield Ask("tree.root_plate", "Measure the root plate: across, thickness, soil in it.", True)
    if failure.kind != "roots":
        sentence = 'Look at the break: fibre still joins it (hinge, with its share), or write attached = "free".'
        yield Ask("tree.attached", sentence, True)
    if failure.fell_towards is None:
        yield Ask("tree.bearing", "Take the compass direction from butt to tip as it lies.", False)
    yield Ask(
        "tree.limb", "Look which limbs broke off or were driven in, and whether it rolled: turn the clocks.", False
    )
    if tree.get("decay"):
        sentence = "Decay is carried over from tests of the standing tree: measure it again where the wood is open."
        yield Ask("tree.decay", sentence, False)
    yield Ask(
        "job.utilities", "Ask the utilities anew: every line is unknown until its owner has said it is off.", False
    )
    yield Ask("job.people_out", "Make sure everyone is out, and write it down.", False)
    for target in job.target:
        yield Ask("building", f"Was {target.what} hit? Write it as a [[building]] or under [[protect]].", False)
