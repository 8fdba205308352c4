"""Whether boards are workable for a wheel on a lawn, and where that stops: the trade's half-inch rule worked out."""

from __future__ import annotations

from dataclasses import dataclass

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.ground.panels import Panel, wheel_on_panel

SHORT_LOAD, WET = 1.6, 0.75  # load duration of minutes (NDS); wet panels (from memory)
STRENGTH_SHARE = SHORT_LOAD * WET
CRACKS = 2.1 / SHORT_LOAD  # breaking of the weakest one in twenty over the short-load allowable (2.1 from memory)
PRACTICE = "half-inch sheets, lapped joints, heavy rounds on a dolly"
MARK = "common practice, no published source for the rule itself"


@dataclass(frozen=True)
class Lawn:
    """A lawn as it is today: springiness of the soil [N/m3] and the pressure it may get [N/m2]."""

    state: str
    modulus: Range
    pressure_limit: float


@dataclass(frozen=True)
class Workable:
    """Boards under one wheel: pressure [N/m2] and sag [m] as ranges, bending over the allowable [-], and the answer."""

    workable: bool
    pressure: Range
    sag: Range
    bending: Range
    most_wheel: Range  # N, the heaviest wheel before it stops, on soft to firm soil
    stops: str  # what gives first
    words: str


def boards_under_wheel(
    load: float, radius: float, panel: Panel, lawn: Lawn, joint: str = "lapped", layers: int = 1
) -> Workable:
    """Whether sheets carry a wheel over a lawn, how hard they press [N/m2], and the wheel load [N] where it stops.

    Picture: the sheet dishes on springy soil; soft soil bends it more and presses less. It stops when a sheet would
    crack (the weakest one in twenty) or the soil gets more than the limit. Workable means at the likely soil.
    Parameters: wheel load [N], contact radius [m], panel, lawn, joint, layers. Raises: BadInput.
    Source: `wheel_on_panel`; limits for lawns are judgement (common practice).
    Checked by: tests/handbook/test_panels.py
    """
    if load <= 0.0:
        raise BadInput("A wheel on boards has a load above zero.")
    ends = (lawn.modulus.low, lawn.modulus.likely, lawn.modulus.high)
    found = [wheel_on_panel(load, radius, panel, k, joint, layers, STRENGTH_SHARE) for k in ends]
    most = [_most(load, one.bending, one.pressure, lawn.pressure_limit) for one in found]
    likely = found[1]
    cracks, presses = likely.bending / CRACKS, likely.pressure / lawn.pressure_limit
    stops = "the sheets crack" if cracks >= presses else "the soil is pressed too hard"
    good = max(cracks, presses) <= 1.0
    return Workable(
        good,
        Range(found[0].pressure, likely.pressure, found[2].pressure),
        Range(found[2].sag, likely.sag, found[0].sag),
        Range(found[2].bending, likely.bending, found[0].bending),
        Range(min(most), most[1], max(most)),
        stops,
        f"{'workable' if good else 'not workable'} on {lawn.state} lawn; it stops when {stops}",
    )


def _most(load: float, bending: float, pressure: float, limit: float) -> float:
    return load * min(CRACKS / bending, limit / pressure)
