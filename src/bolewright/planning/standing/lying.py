"""The part of a standing tree that came down, as the stem of a tree that lies: stations, limbs, clock positions.

A plumb tree that goes over keeps its clock positions: 6 looks along the bearing while it stands and down once it lies.
A bearing that turns out otherwise than the record's turns them all. How far it rolled as it came down nobody knows.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.errors import NotEnoughKnown
from bolewright.core.base.vectors import clock_direction, clock_of, unit
from bolewright.core.tree.spec import STEM
from bolewright.job.failure import Failure
from bolewright.job.model import Job, Limb, Station
from bolewright.planning.standing.lying_decay import decay_tested, decay_written, length_text
from bolewright.planning.standing.tests import tests_of
from bolewright.planning.standing.tree import stood

Floats = NDArray[np.float64]


def lying_stem(job: Job, failure: Failure) -> tuple[dict[str, Any], list[str]]:
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
    decay = [*decay_written(job, names, cut, turn), *decay_tested(tests_of(standing).sections, job, cut, turn)]
    if decay:
        tree["decay"] = decay
        carried.append(f"{len(decay)} stretches of decay, from what was written and drilled")
    return {**tree, **_plate(job, failure)}, carried


def lying_limb(job: Job, failure: Failure) -> tuple[dict[str, Any], list[str]]:
    """A limb that came off as a tree of its own: its base is the butt."""
    limb = next((limb for limb in job.tree.limb if limb.id == failure.limb), None)
    if limb is None:
        raise NotEnoughKnown(
            "Name the limb that gave way: write limb = its id, as under [[tree.limb]].", "failure.limb"
        )
    tree = _common(job)
    tree.pop("dbh", None)
    tip = (
        limb.tip_diameter.text
        if limb.tip_diameter is not None
        else length_text(limb.diameter.likely / 4.0, limb.diameter)
    )
    tree["stem"] = [
        {"at": length_text(0.0, limb.length), "diameter": limb.diameter.text},
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
        {**row, "member": STEM if row["member"] == limb.id else row["member"]}
        for row in decay_written(job, names, 0.0, 0.0)
    ]
    if decay:
        tree["decay"] = decay
    return tree, [f"{limb.id} as a stem of its own, with {len(rows)} limbs on it"]


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
    butt = failure.diameter.text if failure.diameter is not None else length_text(there, like)
    first = {"at": length_text(0.0, like), "diameter": butt}
    return [first, *(_station(s, cut) for s in beyond if s.at.likely > cut + 0.05)]


def _station(station: Station, cut: float) -> dict[str, Any]:
    return {"at": length_text(station.at.likely - cut, station.at), "diameter": station.diameter.text}


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
                row["at"] = length_text(limb.at.likely - cut, limb.at)
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


def _grows_on(job: Job, limb: Limb, root: str) -> bool:
    parents = {item.id: item.on for item in job.tree.limb}
    here: str | None = limb.on
    for _ in parents:
        if here == root:
            return True
        here = parents.get(here or "")
    return False


def _plate(job: Job, failure: Failure) -> dict[str, Any]:
    standing = job.standing
    if failure.kind != "roots" or standing is None or None in (standing.plate_diameter, standing.plate_depth):
        return {}
    return {"root_plate": {"diameter": str(standing.plate_diameter), "thickness": str(standing.plate_depth)}}
