"""Hauling: volumes of logs, brush, chips and piles, and loads by payload, room and length in the order they come."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range

FOOT = 0.3048
CUBIC_FOOT, CUBIC_YARD, POUND = FOOT**3, (3.0 * FOOT) ** 3, 0.45359237
CORD = 128.0 * CUBIC_FOOT
SOLID_FIREWOOD, SOLID_PULPWOOD = 85.0 / 128.0, 90.0 / 128.0
THROWN_CORD = 180.0 * CUBIC_FOOT
LIGHT_COVER, MEDIUM_COVER, HEAVY_COVER = 1.1, 1.3, 1.5  # vegetation multiplier of FEMA 325


def frustum_volume(first: float, second: float, length: float) -> float:
    """Volume of a tapered round piece [m3].

    Parameters: end diameters and length [m]. Raises: BadInput.
    Source: geometry, pi L (D^2 + D d + d^2) / 12.
    Checked by: tests/handbook/test_haul.py
    """
    if min(first, second, length) < 0.0:
        raise BadInput("Diameters and length of a piece are not negative.")
    return math.pi * length * (first**2 + first * second + second**2) / 12.0


def stacked_volume(solid: float, solid_share: float = SOLID_FIREWOOD) -> float:
    """Room that stacked round wood takes [m3].

    Parameters: solid volume [m3]; share of wood in the stack [-], 0.66 firewood, 0.70 pulpwood. Raises: BadInput.
    Source: cord of 128 ft3 with about 85 (firewood) or 90 ft3 (pulpwood) of wood (firewood reference page).
    Checked by: tests/handbook/test_haul.py
    """
    if solid < 0.0 or not 0.0 < solid_share <= 1.0:
        raise BadInput("Wood has a volume not below zero, and fills between none and all of its stack.")
    return solid / solid_share


def face_cord(piece: float) -> float:
    """Room of a face cord, 4 ft high and 8 ft long, one piece deep [m3].

    Parameters: piece length [m].
    Source: definition.
    Checked by: tests/handbook/test_haul.py
    """
    return 32.0 * FOOT**2 * piece


def box_pile(height: float, width: float, length: float) -> float:
    """Volume of a pile taken as a box [m3]; a heap with sloping sides holds less: errs high.

    Parameters: [m]. Raises: BadInput.
    Source: geometry.
    Checked by: tests/handbook/test_haul.py
    """
    if min(height, width, length) < 0.0:
        raise BadInput("A pile's sides are not negative.")
    return height * width * length


def house_debris(length: float, width: float, storeys: float, cover: float) -> float:
    """Volume of debris of a destroyed house [m3]: L x W x storeys x 0.20 x cover, in feet, gives cubic yards.

    Parameters: length and width [m], storeys [-], cover [-] 1.1 light, 1.3 medium, 1.5 heavy. Raises: BadInput.
    Source: FEMA 325, Public Assistance Debris Management Guide.
    Checked by: tests/handbook/test_haul.py
    """
    if min(length, width, storeys) < 0.0 or cover < 1.0:
        raise BadInput("A house has sides and storeys not below zero, and its cover multiplier is 1 or more.")
    return length * width / FOOT**2 * storeys * 0.20 * cover * CUBIC_YARD


def shed_debris(length: float, width: float, height: float) -> float:
    """Volume of debris of an outbuilding [m3]: a third of its box.

    Parameters: [m].
    Source: FEMA 325: L x W x H x 0.33, in cubic feet.
    Checked by: tests/handbook/test_haul.py
    """
    return box_pile(height, width, length) * 0.33


def bulk_volume(mass: Range, density: Range) -> Range:
    """Room that a mass of brush or chips takes [m3], from light and loose to heavy and settled.

    Parameters: mass [kg], bulk density [kg/m3].
    Source: definition.
    Checked by: tests/handbook/test_haul.py
    """
    return Range(mass.low / density.high, mass.likely / density.likely, mass.high / density.low)


def bridge_limit(length: float, axles: int) -> float:
    """Mass allowed on a group of axles by the bridge formula [kg], before rounding to 500 lb.

    Parameters: length from first to last axle of the group [m], axles, at least 2. Raises: BadInput.
    Source: 23 CFR 658.17, recalled: W = 500 (L N / (N - 1) + 12 N + 36) lb (from memory).
    Checked by: tests/handbook/test_haul.py
    """
    if axles < 2 or length <= 0.0:
        raise BadInput("A group has at least two axles, apart from each other.")
    return 500.0 * (length / FOOT * axles / (axles - 1) + 12.0 * axles + 36.0) * POUND


@dataclass(frozen=True)
class Item:
    """Something to be loaded: mass [kg] at its heaviest, room it takes [m3], length [m]."""

    id: str
    mass: float
    room: float
    length: float


@dataclass(frozen=True)
class Carrier:
    """A truck, trailer, cart or dolly: most it takes in mass [kg], room [m3] and length [m] (inf: no limit)."""

    name: str
    payload: float
    room: float = math.inf
    length: float = math.inf


@dataclass(frozen=True)
class Load:
    """One load in the order the pieces come."""

    items: tuple[str, ...]
    mass: float
    room: float


@dataclass(frozen=True)
class Packed:
    """All loads, and what fits none with the reason in words."""

    loads: tuple[Load, ...]
    left: tuple[tuple[str, str], ...]


def why_not(item: Item, carrier: Carrier) -> str:
    """Why an item cannot go on a carrier at all, in words with what to cut it to; "" when it can.

    Parameters: item and carrier in SI.
    Source: comparison.
    Checked by: tests/handbook/test_haul.py
    """
    if item.mass > carrier.payload:
        parts = math.ceil(item.mass / carrier.payload)
        return f"{item.mass / carrier.payload:.1f} times what {carrier.name} takes: cut it in {parts}"
    if item.length > carrier.length:
        parts = math.ceil(item.length / carrier.length)
        return f"{item.length / carrier.length:.1f} times as long as {carrier.name} takes: cut it in {parts}"
    if item.room > carrier.room:
        return f"{item.room / carrier.room:.1f} times the room in {carrier.name}: cut it up"
    return ""


def pack(items: Sequence[Item], carrier: Carrier) -> Packed:
    """The fewest loads that keep the order in which the pieces come [kg], [m3]; what fits none is left with the reason.

    Picture: each load is filled until the next piece does not fit. In a given order no other way takes fewer.
    Parameters: items in order, carrier. Raises: BadInput for a carrier that takes nothing.
    Source: greedy filling of consecutive runs is least (exchange argument).
    Checked by: tests/handbook/test_haul.py
    """
    if carrier.payload <= 0.0 or carrier.room <= 0.0 or carrier.length <= 0.0:
        raise BadInput(f"{carrier.name} has to take some mass, room and length.")
    loads: list[list[Item]] = []
    left = []
    for item in items:
        reason = why_not(item, carrier)
        if reason:
            left.append((item.id, reason))
        elif loads and _fits([*loads[-1], item], carrier):
            loads[-1].append(item)
        else:
            loads.append([item])
    return Packed(tuple(_load(run) for run in loads), tuple(left))


def _fits(run: Sequence[Item], carrier: Carrier) -> bool:
    load = _load(run)
    return load.mass <= carrier.payload + 1e-9 and load.room <= carrier.room + 1e-9


def _load(run: Sequence[Item]) -> Load:
    return Load(tuple(item.id for item in run), sum(item.mass for item in run), sum(item.room for item in run))
