"""Refuses numbers that cannot be a tree, each with the path of the value and one plain sentence."""

from __future__ import annotations

import math
import re

from bolewright.core.base.errors import BadInput
from bolewright.core.tree.spec import FOLIAGE_KINDS, STEM, Hollow, Limb, Plate, Station, TreeSpec

WIDEST = 12.0  # m; no living tree is thicker
LONGEST = 150.0  # m; no living tree is taller
DENSEST = 1300.0  # kg/m3; no green wood is heavier
STEM_PIECE = re.compile(r"S[0-9]+")


def check_spec(spec: TreeSpec) -> None:
    """Nothing (SI): raises BadInput at the first value that cannot be. What depends on centre lines is checked there.

    Source: house rule.
    Checked by: tests/unit/tree/test_check.py
    """
    _between(spec.wood_density, 0.0, DENSEST, "tree.density", "wood density", "kg/m3", above_zero=True)
    _between(spec.longest, 0.0, LONGEST, "longest", "longest segment", "m", above_zero=True)
    _between(spec.decayed_share, 0.0, 1.0, "tree.decayed_share", "share of density left in decayed wood", "")
    for name in ("small_wood_per_area", "leaf_per_area", "needle_per_area"):
        _between(getattr(spec, name), 0.0, 1e7, f"tree.{name}", name.replace("_", " "), "kg/m2")
    _foliage(spec.stem_foliage, "tree.stem_foliage")
    _stations(spec.stations)
    _limbs(spec.limbs)
    members = {STEM, *(limb.id for limb in spec.limbs)}
    for i, hollow in enumerate(spec.hollows):
        _hollow(hollow, members, f"tree.decay[{i}]")
    if spec.plate is not None:
        _plate(spec.plate)
    for i, (member, s) in enumerate(spec.split_at):
        _member(member, members, f"split_at[{i}].member")
        _between(s, 0.0, LONGEST, f"split_at[{i}].at", "distance along the member", "m")


def _between(value: float, low: float, high: float, path: str, name: str, unit: str, above_zero: bool = False) -> None:
    if math.isfinite(value) and low <= value <= high and not (above_zero and value <= 0.0):
        return
    least = "more than 0" if above_zero else f"{low:g}"
    after = f" {unit}" if unit else ""
    raise BadInput(f"The {name} is {value:g}{after}; it has to be from {least} to {high:g}{after}.", path)


def _foliage(kind: str, path: str) -> None:
    if kind not in FOLIAGE_KINDS:
        raise BadInput(f"Foliage is {kind!r}; it has to be one of {', '.join(FOLIAGE_KINDS)}.", path)


def _member(member: str, members: set[str], path: str) -> None:
    if member not in members:
        raise BadInput(f"There is no stem or limb called {member!r}.", path)


def _stations(stations: tuple[Station, ...]) -> None:
    if len(stations) < 2:
        raise BadInput("The stem needs at least two stations, one at the butt and one at the top end.", "tree.stem")
    if stations[0].at != 0.0:
        raise BadInput("The first stem station has to be at the butt, distance 0.", "tree.stem[0].at")
    for i, station in enumerate(stations):
        path = f"tree.stem[{i}]"
        _between(station.at, 0.0, LONGEST, f"{path}.at", "distance along the stem", "m")
        if i and station.at <= stations[i - 1].at + 1e-4:
            raise BadInput("Stem stations have to follow each other from the butt outward.", f"{path}.at")
        last = i == len(stations) - 1
        _between(station.diameter, 0.0, WIDEST, f"{path}.diameter", "stem diameter", "m", above_zero=not last)
        if station.height is not None:
            _between(station.height, -LONGEST, LONGEST, f"{path}.height", "height of the underside", "m")
        _between(station.offset, -LONGEST, LONGEST, f"{path}.offset", "offset", "m")


def _limbs(limbs: tuple[Limb, ...]) -> None:
    seen: set[str] = set()
    for i, limb in enumerate(limbs):
        path = f"tree.limb[{i}]"
        if not limb.id or limb.id == STEM or STEM_PIECE.fullmatch(limb.id):
            raise BadInput(f"A limb cannot be called {limb.id!r}; stem and S1, S2 ... name the stem.", f"{path}.id")
        if limb.id in seen:
            raise BadInput(f"Two limbs are called {limb.id!r}; give each its own name.", f"{path}.id")
        seen.add(limb.id)
        _limb_sizes(limb, path)
    members = seen | {STEM}
    for i, limb in enumerate(limbs):
        _member(limb.on, members, f"tree.limb[{i}].on")
    _no_rings(limbs)


def _limb_sizes(limb: Limb, path: str) -> None:
    _foliage(limb.foliage, f"{path}.foliage")
    _between(limb.at, 0.0, LONGEST, f"{path}.at", "distance to the limb", "m", above_zero=True)
    _between(limb.clock, 0.0, 12.0, f"{path}.clock", "clock position", "")
    _between(limb.length, 0.0, LONGEST, f"{path}.length", "limb length", "m", above_zero=True)
    _between(limb.diameter, 0.0, WIDEST, f"{path}.diameter", "limb diameter", "m", above_zero=True)
    _between(limb.tip_diameter, 0.0, WIDEST, f"{path}.tip_diameter", "tip diameter", "m")
    if limb.tip_diameter > limb.diameter:
        raise BadInput(f"Limb {limb.id} is thicker at its tip than at its base.", f"{path}.tip_diameter")
    if not 0.0 <= limb.angle_rad < math.pi - 1e-6:
        raise BadInput(
            "The angle of a limb from its parent's axis has to be from 0 to less than 180 deg.", f"{path}.angle"
        )


def _no_rings(limbs: tuple[Limb, ...]) -> None:
    parent = {limb.id: limb.on for limb in limbs}
    done: set[str] = {STEM}
    for i, limb in enumerate(limbs):
        trail: dict[str, None] = {}  # in the order walked
        here = limb.id
        while here not in done:
            if here in trail:
                walked = list(trail)
                ring = " on ".join([*walked[walked.index(here) :], here])
                raise BadInput(f"These limbs grow from each other in a ring: {ring}.", f"tree.limb[{i}].on")
            trail[here] = None
            here = parent[here]
        done.update(trail)


def _hollow(hollow: Hollow, members: set[str], path: str) -> None:
    _member(hollow.member, members, f"{path}.member")
    _between(hollow.start, 0.0, LONGEST, f"{path}.from", "start of the decay", "m")
    _between(hollow.end, 0.0, LONGEST, f"{path}.to", "end of the decay", "m")
    if hollow.end <= hollow.start:
        raise BadInput("The decay has to end farther out than it starts.", f"{path}.to")
    if not hollow.shell:
        raise BadInput("Give the depth of sound shell, once or at clock positions.", f"{path}.shell")
    for clock, depth in hollow.shell:
        _between(clock, 0.0, 12.0, f"{path}.readings", "clock position", "")
        _between(depth, 0.0, WIDEST, f"{path}.shell", "depth of sound shell", "m")
    if len({clock % 12.0 for clock, _ in hollow.shell}) < len(hollow.shell):
        raise BadInput("Two shell readings stand at the same clock position.", f"{path}.readings")
    if max(depth for _, depth in hollow.shell) <= 0.0:
        raise BadInput("At least one shell depth has to be more than 0, or there is no wood left.", f"{path}.shell")


def _plate(plate: Plate) -> None:
    path = "tree.root_plate"
    _between(plate.diameter, 0.0, 4.0 * WIDEST, f"{path}.diameter", "root plate diameter", "m", above_zero=True)
    _between(plate.thickness, 0.0, WIDEST, f"{path}.thickness", "root plate thickness", "m", above_zero=True)
    _between(plate.density, 0.0, 3000.0, f"{path}.density", "root plate density", "kg/m3", above_zero=True)
