"""Ruts: how firm soil is by its moisture, and how deep wheels sink on the first pass and the later ones."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range

PSI = 4.4482216152605 / 0.0254**2
CONE_OVER_COHESION = 12.5  # cone index over undrained strength of clay, +- 30 % (NATO cone, from memory)
CLASSES: Mapping[str, tuple[float, float]] = {  # c, a of ln RCI = c - a ln w (Frankenstein and Koenig 2004)
    "SM": (8.749, 1.1949),
    "CL": (10.998, 1.848),
    "ML": (10.225, 1.565),
}


@dataclass(frozen=True)
class Tyre:
    """A wheel: width, diameter and section height [m], tyre pressure [N/m2] (a solid wheel: a high one)."""

    width: float
    diameter: float
    height: float
    pressure: float


def cone_index(soil: str, moisture: float) -> float:
    """Rating cone index of silty sand (SM), lean clay (CL) or silt (ML) by its moisture [N/m2].

    Picture: how hard a cone is to push in after the soil has been worked. A root mat of turf adds to it: errs low
    on an old lawn. The source does not print its unit; lb/in2 is taken, as for every cone index of that work.
    Parameters: soil class; moisture, mass of water over dry soil [%]. Raises: BadInput.
    Source: Frankenstein and Koenig (2004), ERDC/CRREL SR-04-1, Table 5.2.1: ln RCI = c - a ln w.
    Checked by: tests/handbook/test_ruts.py
    """
    if soil not in CLASSES:
        raise BadInput(f"The moisture relation is known for soil classes {', '.join(CLASSES)}.")
    if not 1.0 <= moisture <= 100.0:
        raise BadInput("The moisture of mineral soil lies between 1 and 100 % of its dry mass.")
    constant, power = CLASSES[soil]
    return math.exp(constant - power * math.log(moisture)) * PSI


def peat_cone_index(moisture: float) -> float:
    """Cone index of peat by its moisture [N/m2].

    Parameters: moisture [%] of dry mass. Raises: BadInput.
    Source: Saarilahti (2002): 10504 w^-0.561 kPa.
    Checked by: tests/handbook/test_ruts.py
    """
    if moisture <= 0.0:
        raise BadInput("The moisture of peat is more than zero.")
    return float(10504.0 * moisture**-0.561 * 1000.0)


def bearing_ratio_of_cone_drop(penetration: float) -> float:
    """California bearing ratio [%] from a dynamic cone's way per blow.

    Parameters: penetration [mm] per blow. Raises: BadInput.
    Source: Webster et al. (1992), recalled: 292 / DPI^1.12 (from memory).
    Checked by: tests/handbook/test_ruts.py
    """
    if penetration <= 0.0:
        raise BadInput("A dynamic cone goes in by more than zero at each blow.")
    return float(292.0 / penetration**1.12)


def cohesion_of_cone(index: float) -> float:
    """Undrained strength of clay from its cone index [N/m2], within about 30 %.

    Parameters: index [N/m2]. Source below recalled (from memory).
    Source: NATO cone, cu about CI / 12.5.
    Checked by: tests/handbook/test_ruts.py
    """
    return index / CONE_OVER_COHESION


def tyre_deflection(load: float, pressure: float) -> float:
    """How far a tyre flattens [m], from forestry tyres; for small cart tyres an estimate.

    Parameters: load [N], tyre pressure [N/m2]. Raises: BadInput.
    Source: Saarilahti (2002): 0.0008 + 0.001 (0.365 + 170 / p) W with p in kPa and W in kN.
    Checked by: tests/handbook/test_ruts.py
    """
    if load <= 0.0 or pressure <= 0.0:
        raise BadInput("A tyre has a load and a pressure above zero.")
    return 0.0008 + 0.001 * (0.365 + 170.0 / (pressure / 1000.0)) * load / 1000.0


def maclaurin_number(index: float, load: float, tyre: Tyre) -> float:
    """Maclaurin's mobility number [-]: CI b^0.8 d^0.8 delta^0.4 / W; the lower, the deeper the wheel sinks.

    Parameters: cone index [N/m2], load [N], tyre [m].
    Source: Maclaurin (1990, 1997), after Saarilahti (2002).
    Checked by: tests/handbook/test_ruts.py
    """
    flat = tyre_deflection(load, tyre.pressure)
    return float(index * tyre.width**0.8 * tyre.diameter**0.8 * flat**0.4 / load)


def turnage_number(index: float, load: float, tyre: Tyre) -> float:
    """Turnage's mobility number [-]: CI b d / W sqrt(delta / h) / (1 + b / 2d).

    Parameters: cone index [N/m2], load [N], tyre [m].
    Source: Turnage (1978), after Saarilahti (2002).
    Checked by: tests/handbook/test_ruts.py
    """
    flat = tyre_deflection(load, tyre.pressure)
    size = index * tyre.width * tyre.diameter / load
    return size * math.sqrt(flat / tyre.height) / (1.0 + tyre.width / (2.0 * tyre.diameter))


def brixius_number(index: float, load: float, tyre: Tyre) -> float:
    """Brixius' mobility number [-]: CI b d / W (1 + 5 delta / h) / (1 + 3 b / d).

    Parameters: cone index [N/m2], load [N], tyre [m].
    Source: Brixius (1987), after Saarilahti (2002).
    Checked by: tests/handbook/test_ruts.py
    """
    flat = tyre_deflection(load, tyre.pressure)
    size = index * tyre.width * tyre.diameter / load
    return size * (1.0 + 5.0 * flat / tyre.height) / (1.0 + 3.0 * tyre.width / tyre.diameter)


def limiting_cone_index(load: float, tyre: Tyre) -> float:
    """The softest soil a wheel gets over once [N/m2].

    Parameters: load [N], tyre [m].
    Source: Maclaurin (1997): 1.85 W / (b^0.8 d^0.8 delta^0.4), after Saarilahti (2002).
    Checked by: tests/handbook/test_ruts.py
    """
    return 1.85 * index_unit(load, tyre)


def index_unit(load: float, tyre: Tyre) -> float:
    """The cone index at which Maclaurin's number is 1 [N/m2].

    Parameters: load [N], tyre [m].
    Source: as `maclaurin_number`.
    Checked by: tests/handbook/test_ruts.py
    """
    return 1.0 / maclaurin_number(1.0, load, tyre)


def first_rut(number: float, diameter: float) -> float:
    """Rut after the first pass [m]: 0.224 d / N^1.25.

    Picture: fitted on forest machines in bare soil; for a cart on turf an outside estimate.
    Parameters: mobility number [-], wheel diameter [m]. Raises: BadInput.
    Source: Maclaurin (1990), after Saarilahti (1991) eq. 6.8; sources differ on which number is meant.
    Checked by: tests/handbook/test_ruts.py
    """
    if number <= 0.0 or diameter <= 0.0:
        raise BadInput("A rut needs a mobility number and a wheel diameter above zero.")
    return float(0.224 * diameter / number**1.25)


def later_rut(first: float, passes: float, exponent: float) -> float:
    """Rut after several passes in one track [m]: z1 n^(1/a).

    Parameters: first [m], passes [-], exponent a: 2 to 3 in loose soil, 3 to 4 medium, 4 to 5 firm. Raises: BadInput.
    Source: z_n = z_1 n^(1/a), Saarilahti (2002).
    Checked by: tests/handbook/test_ruts.py
    """
    if passes < 1.0 or exponent <= 0.0:
        raise BadInput("A rut is made by one pass at least.")
    return float(first * passes ** (1.0 / exponent))


def rut(index: Range, load: float, tyre: Tyre, passes: float, exponents: tuple[float, float]) -> Range:
    """Rut after all passes as a range [m]: firm to soft, by both published numbers and both ends of the exponent.

    Parameters: cone index as a range [N/m2], wheel load [N], tyre [m], passes [-], exponents a low and high.
    Source: `first_rut` with Maclaurin's and Turnage's numbers, since sources differ on which is meant.
    Checked by: tests/handbook/test_ruts.py
    """

    def deep(value: float, exponent: float) -> list[float]:
        numbers = (maclaurin_number(value, load, tyre), turnage_number(value, load, tyre))
        return [later_rut(first_rut(number, tyre.diameter), passes, exponent) for number in numbers]

    slow, fast = max(exponents), min(exponents)
    low, high = min(deep(index.high, slow)), max(deep(index.low, fast))
    middle = math.sqrt(math.prod(deep(index.likely, (slow + fast) / 2.0)))
    return Range(low, min(max(middle, low), high), high)


def bekker_sinkage(pressure: float, width: float, cohesive: float, frictional: float, power: float) -> float:
    """How far a plate sinks under a pressure [m]: (p / (kc / b + kphi))^(1/n). Constants are for one soil and moisture.

    Parameters: pressure [N/m2], width [m], kc [N/m^(n+1)], kphi [N/m^(n+2)], n [-]. Raises: BadInput.
    Source: Bekker; Wong, Theory of ground vehicles (constants from memory).
    Checked by: tests/handbook/test_ruts.py
    """
    if width <= 0.0 or power <= 0.0:
        raise BadInput("A sinking plate has a width, and its law a power, above zero.")
    return float((pressure / (cohesive / width + frictional)) ** (1.0 / power))
