"""Bearing capacity of soil under a footing, board or wheel, by the published general formulas."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bolewright.core.base.errors import BadInput

UNDRAINED = math.pi + 2.0  # Nc of soil without friction (Prandtl)


@dataclass(frozen=True)
class Factors:
    """Bearing factors for cohesion, surcharge and the soil's own weight [-]."""

    cohesion: float
    surcharge: float
    weight: float


@dataclass(frozen=True)
class Soil:
    """cohesion [N/m2], friction angle [rad], unit weight [N/m3]."""

    cohesion: float
    friction: float
    unit_weight: float


WEIGHT_FORMS = ("Vesic", "Meyerhof", "Hansen", "Eurocode 7", "Brinch Hansen 1961")


def bearing_factors(friction: float, form: str = "Vesic") -> Factors:
    """Bearing factors of a strip footing [-]: Prandtl and Reissner for Nc and Nq, one of five forms for Ngamma.

    Picture: a wedge pushed down, fans and wedges pushed out and up. The forms differ only in the weight factor, up
    to a third; "Meyerhof" and "Hansen" are the careful ones at common angles.
    Parameters: friction angle [rad], 0 to 50 degrees; form, one of WEIGHT_FORMS. Raises: BadInput.
    Source: Nq = Kp e^(pi tan phi), Nc = (Nq - 1) cot phi; Ngamma 2 (Nq + 1) tan (Vesic), (Nq - 1) tan(1.4 phi)
    (Meyerhof), 1.5 (Nq - 1) tan (Hansen), 2 (Nq - 1) tan (EN 1997-1), 1.8 (Nq - 1) tan (Brinch Hansen 1961).
    Checked by: tests/handbook/test_ground.py
    """
    if not 0.0 <= friction <= math.radians(50.0):
        raise BadInput("The friction angle of soil lies between 0 and 50 degrees.")
    tan = math.tan(friction)
    surcharge = math.tan(math.pi / 4.0 + friction / 2.0) ** 2 * math.exp(math.pi * tan)
    cohesion = (surcharge - 1.0) / tan if tan > 1e-9 else UNDRAINED
    weights = {
        "Vesic": 2.0 * (surcharge + 1.0) * tan,
        "Meyerhof": (surcharge - 1.0) * math.tan(1.4 * friction),
        "Hansen": 1.5 * (surcharge - 1.0) * tan,
        "Eurocode 7": 2.0 * (surcharge - 1.0) * tan,
        "Brinch Hansen 1961": 1.8 * (surcharge - 1.0) * tan,
    }
    if form not in weights:
        raise BadInput(f"The weight factor has one of these forms: {', '.join(WEIGHT_FORMS)}.")
    return Factors(cohesion, surcharge, weights[form])


def terzaghi_factors(friction: float) -> tuple[float, float]:
    """Terzaghi's own Nc and Nq for a rough base [-]; 5.70 and 1 without friction.

    Parameters: friction angle [rad]. Raises: BadInput.
    Source: Nq = e^((3 pi/2 - phi) tan phi) / (2 cos^2(45 + phi/2)), Nc = (Nq - 1) cot phi (Terzaghi 1943).
    Checked by: tests/handbook/test_ground.py
    """
    if not 0.0 <= friction <= math.radians(50.0):
        raise BadInput("The friction angle of soil lies between 0 and 50 degrees.")
    tan = math.tan(friction)
    surcharge = math.exp((1.5 * math.pi - friction) * tan) / (2.0 * math.cos(math.pi / 4.0 + friction / 2.0) ** 2)
    return ((surcharge - 1.0) / tan if tan > 1e-9 else 1.5 * math.pi + 1.0), surcharge


_SHAPES = {"strip": (1.0, 0.5), "square": (1.3, 0.4), "circle": (1.3, 0.3)}


def terzaghi_bearing(
    soil: Soil, factors: Factors, width: float, depth: float = 0.0, shape: str = "square", local: bool = False
) -> float:
    """Pressure at which soil gives way under a footing [N/m2], Terzaghi's form; no factor of safety in it.

    Picture: `local` takes two thirds of the cohesion, for loose or soft soil that squeezes before it shears.
    Parameters: soil; factors; width and depth [m]; shape strip, square or circle (width its diameter).
    Raises: BadInput.
    Source: Terzaghi (1943): 1.3 c Nc + q Nq + 0.4 g B Ng (square), 0.3 (circle), 1.0 and 0.5 (strip).
    Checked by: tests/handbook/test_ground.py
    """
    if shape not in _SHAPES or width <= 0.0 or depth < 0.0:
        raise BadInput("A footing is a strip, square or circle, with a width above zero and a depth not below.")
    on_cohesion, on_weight = _SHAPES[shape]
    cohesion = soil.cohesion * (2.0 / 3.0 if local else 1.0)
    own = on_cohesion * cohesion * factors.cohesion
    return own + soil.unit_weight * (depth * factors.surcharge + on_weight * width * factors.weight)


@dataclass(frozen=True)
class Corrections:
    """Shape, depth and inclination factors on cohesion (c), surcharge (q) and weight (g) [-]."""

    shape_c: float
    shape_q: float
    shape_g: float
    depth_c: float
    depth_q: float
    slant_c: float
    slant_q: float
    slant_g: float


def corrections(soil: Soil, width: float, length: float, depth: float, upright: float, sideways: float) -> Corrections:
    """Factors for the shape, depth and slant of a load on a rectangular footing [-].

    Picture: a short footing carries more to the area than a strip, a deep one more than one on the surface, and a
    load with a push sideways less. The slant is taken as for a strip, which errs to the careful side.
    Parameters: soil; effective width and length, depth [m]; upright and sideways load [N]. Raises: BadInput.
    Source: shape and depth after Brinch Hansen (1961), DGI Bulletin 11, and Guia de cimentaciones (Ministerio de
    Fomento 2002); slant (1 - s)^2 and (1 - s)^3 after Vesic (1973), exact without friction.
    Checked by: tests/handbook/test_ground.py
    """
    if not 0.0 < width <= length or depth < 0.0 or upright <= 0.0 or sideways < 0.0:
        raise BadInput("A footing has a width not above its length, a depth not below zero and a load on it.")
    factors, tan = bearing_factors(soil.friction), math.tan(soil.friction)
    ratio, area = width / length, width * length
    sunk = 2.0 * (1.0 - math.sin(soil.friction)) ** 2 * math.atan(depth / width)
    shape_c = 1.0 + ratio * factors.surcharge / factors.cohesion
    depth_c = 1.0 + sunk * factors.surcharge / factors.cohesion
    if tan < 1e-9:
        slant_c = _undrained_slant(sideways, area * soil.cohesion)
        return Corrections(shape_c, 1.0, 1.0, depth_c, 1.0, slant_c, 1.0, 1.0)
    left = max(1.0 - sideways / (upright + area * soil.cohesion / tan), 0.0)
    slant_q, slant_g = left**2, left**3
    slant_c = slant_q - (1.0 - slant_q) / (factors.surcharge - 1.0)
    return Corrections(
        shape_c, 1.0 + ratio * tan, 1.0 - 0.3 * ratio, depth_c, 1.0 + sunk * tan, slant_c, slant_q, slant_g
    )


def _undrained_slant(sideways: float, sticking: float) -> float:
    """Inclination factor without friction, from the push sideways and the most the soil sticks [N]."""
    if sideways > sticking:
        raise BadInput("The push sideways is more than the soil under the footing sticks: it slides.")
    share = sideways / sticking if sticking > 0.0 else 0.0
    return (1.0 + math.pi - math.asin(share) + math.sqrt(1.0 - share**2)) / UNDRAINED


def general_bearing(soil: Soil, width: float, depth: float, factors: Factors, given: Corrections) -> float:
    """Pressure at which soil gives way [N/m2] with all corrections; no factor of safety in it.

    Parameters: soil, width and depth [m], factors and corrections [-].
    Source: q = c Nc sc dc ic + q Nq sq dq iq + 0.5 g B Ng sg ig (Brinch Hansen 1961; Vesic 1973).
    Checked by: tests/handbook/test_ground.py
    """
    own = soil.cohesion * factors.cohesion * given.shape_c * given.depth_c * given.slant_c
    beside = soil.unit_weight * depth * factors.surcharge * given.shape_q * given.depth_q * given.slant_q
    return own + beside + 0.5 * soil.unit_weight * width * factors.weight * given.shape_g * given.slant_g
