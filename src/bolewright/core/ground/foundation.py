"""Boards on soil: beams and plates on an elastic foundation, by closed forms and, at an edge, by a Fourier integral."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.special import keip, kerp

from bolewright.core.base.errors import BadInput


@dataclass(frozen=True)
class OnSoil:
    """A board where the load stands on it: sag [m], pressure on the soil [N/m2], bending moment."""

    sag: float
    pressure: float
    moment: float  # N m, or N m per m of width for a plate


def stiffness_length(stiffness: float, line_modulus: float) -> float:
    """Lambda of a beam on soil [1/m]: (k / 4 EI)^(1/4), one over the length it spreads a load by.

    Parameters: stiffness EI [N m2]; line_modulus [N/m2], subgrade modulus x width. Raises: BadInput.
    Source: Hetenyi (1946), Beams on elastic foundation.
    Checked by: tests/handbook/test_panels.py
    """
    if stiffness <= 0.0 or line_modulus <= 0.0:
        raise BadInput("A board on soil needs stiffness in both board and soil.")
    return float((line_modulus / (4.0 * stiffness)) ** 0.25)


def long_beam(load: float, stiffness: float, modulus: float, width: float) -> OnSoil:
    """A long strip with a load far from its ends ([m], [N/m2], [N m]).

    Picture: all of the strip's width bends as one, so the pressure across it is even: errs low for a wide board
    under a small wheel (`plate_inside` is the other bound).
    Parameters: load [N], EI [N m2], subgrade modulus [N/m3], width [m]. Raises: BadInput.
    Source: Hetenyi (1946): y = P lambda / 2k, M = P / 4 lambda.
    Checked by: tests/handbook/test_panels.py
    """
    lam = stiffness_length(stiffness, modulus * width)
    sag = load * lam / (2.0 * modulus * width)
    return OnSoil(sag, modulus * sag, load / (4.0 * lam))


def beam_end(load: float, stiffness: float, modulus: float, width: float) -> OnSoil:
    """A long strip loaded at its very end ([m], [N/m2], [N m]): four times the sag of a load far from it.

    Parameters: as `long_beam`. Raises: BadInput.
    Source: Hetenyi (1946): y = 2 P lambda / k, M = 0.3224 P / lambda at pi / (4 lambda).
    Checked by: tests/handbook/test_panels.py
    """
    lam = stiffness_length(stiffness, modulus * width)
    sag = 2.0 * load * lam / (modulus * width)
    return OnSoil(sag, modulus * sag, math.exp(-math.pi / 4.0) * math.sin(math.pi / 4.0) * load / lam)


def short_beam(load: float, stiffness: float, modulus: float, width: float, length: float) -> tuple[OnSoil, float]:
    """A strip with free ends loaded in its middle ([m], [N/m2], [N m]), and the sag of its ends [m].

    Parameters: as `long_beam`; length [m]. A negative sag of the ends means that they lift. Raises: BadInput.
    Source: Hetenyi (1946), finite beam with free ends.
    Checked by: tests/handbook/test_panels.py
    """
    lam, k = stiffness_length(stiffness, modulus * width), modulus * width
    x = lam * length
    if x > 40.0:
        return long_beam(load, stiffness, modulus, width), 0.0
    under = math.sinh(x) + math.sin(x)
    sag = load * lam / (2.0 * k) * (math.cosh(x) + math.cos(x) + 2.0) / under
    moment = load / (4.0 * lam) * (math.cosh(x) - math.cos(x)) / under
    end = 2.0 * load * lam / k * math.cosh(x / 2.0) * math.cos(x / 2.0) / under
    return OnSoil(sag, modulus * sag, moment), end


def plate_inside(load: float, stiffness: float, modulus: float, radius: float = 0.0, poisson: float = 0.0) -> OnSoil:
    """A wide plate loaded on a circle far from its edges ([m], [N/m2], [N m/m]).

    Picture: the load is spread evenly over its own small circle; the plate dishes round it. With radius 0 sag and
    pressure are those of a point load and the moment has no end (given as infinity).
    Parameters: load [N], stiffness per width [N m], subgrade modulus [N/m3], radius [m]. Raises: BadInput.
    Source: Hertz (1884), Westergaard (1926): P / (8 k l^2) for a point; over a circle by Kelvin functions,
    w = q/k (1 + x ker'x), M = (1 + nu)/2 q l^2 x kei'x with x = radius / l.
    Checked by: tests/handbook/test_panels.py
    """
    spread = plate_length(stiffness, modulus)
    if load < 0.0 or radius < 0.0:
        raise BadInput("A wheel on a board has a load and a contact that are not negative.")
    x = radius / spread
    if x < 1e-3:
        sag = load / (8.0 * modulus * spread**2)
        return OnSoil(sag, modulus * sag, math.inf)
    even = load / (math.pi * radius**2)
    pressure = even * (1.0 + x * float(kerp(x)))
    moment = (1.0 + poisson) / 2.0 * even * spread**2 * x * float(keip(x))
    return OnSoil(pressure / modulus, pressure, moment)


def plate_length(stiffness: float, modulus: float) -> float:
    """The length over which a plate spreads a load on soil [m]: (D / k)^(1/4).

    Parameters: stiffness per width [N m], subgrade modulus [N/m3]. Raises: BadInput.
    Source: Westergaard (1926), radius of relative stiffness.
    Checked by: tests/handbook/test_panels.py
    """
    if stiffness <= 0.0 or modulus <= 0.0:
        raise BadInput("A board on soil needs stiffness in both board and soil.")
    return float((stiffness / modulus) ** 0.25)


def plate_edge(load: float, stiffness: float, modulus: float, half_width: float, poisson: float = 0.0) -> OnSoil:
    """A wide plate loaded along a short stretch of its free edge ([m], [N/m2], [N m/m] along the edge).

    Picture: a wheel on the very edge, all of it still on the board; the load is drawn together on the edge line,
    which errs high. Sag is about three and a half times that inside.
    Parameters: load [N], stiffness per width [N m], subgrade modulus [N/m3], half of the loaded stretch [m].
    Raises: BadInput.
    Source: thin plate on Winkler soil, free edge, Fourier integral along the edge; Westergaard (1926) for a point.
    Checked by: tests/handbook/test_panels.py
    """
    spread = plate_length(stiffness, modulus)
    if half_width <= 0.0 or load < 0.0:
        raise BadInput("A wheel on the edge of a board needs a load not negative and a contact above zero.")
    sag, curl = _edge_integrals(half_width / spread, poisson)
    down = load / (modulus * spread**2) * sag
    return OnSoil(down, modulus * down, load * curl)


@lru_cache(maxsize=4096)
def _edge_integrals(half: float, poisson: float) -> tuple[float, float]:
    """Sag and moment along the edge under a unit load over 2 x half, lengths in l: integrals over wave number a.

    For each wave the plate decays inwards as 2 Re(A e^(-r y)), r^2 = a^2 + i. No moment across the edge gives A up to
    a real factor; the upright force at the edge sets that.
    """
    a = np.concatenate([np.linspace(0.0, 4.0, 801), np.linspace(4.0, max(8.0, 120.0 / half), 6001)[1:]])
    r = np.sqrt(a**2 + 1j)
    across = r**2 - poisson * a**2
    turn = np.exp(1j * (np.pi / 2.0 - np.angle(across)))  # Re(A across) = 0
    force = 2.0 * np.real(turn * (-(r**3) + (2.0 - poisson) * a**2 * r))  # of w''' - (2 - nu) a^2 w'
    size = np.sinc(a * half / np.pi) / (np.pi * force)
    deep = 2.0 * np.real(turn) * size
    bent = (a**2 * 2.0 * np.real(turn) - poisson * 2.0 * np.real(turn * r**2)) * size
    return abs(float(np.trapezoid(deep, a))), abs(float(np.trapezoid(bent, a)))
