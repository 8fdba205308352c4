"""Wind speed with height over open and rough country, in the two forms of the published standards.

Everything is kept as ONE kind of speed: the gust (3 s) that a weather station in open country would show at 10 m.
A mean is turned into it once, at the door (`reference_gust`); nothing after that multiplies by a gust factor again.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput

Floats = NDArray[np.float64]
Averaging = Literal["gust", "mean"]
Form = Literal["EN", "ASCE"]
AIR_DENSITY = 1.225  # kg/m3 at 15 C and sea level; EN 1991-1-4 takes 1.25 for pressures
EN_AIR_DENSITY = 1.25
TURBULENCE = 1.0  # k_I
FOOT = 0.3048
STATION = 10.0  # m, height of a weather station's mast
ASCE_LOWEST = 15.0 * FOOT


@dataclass(frozen=True)
class Roughness:
    """Terrain category of EN 1991-1-4: roughness length and the height below which the profile is held [m]."""

    length: float
    lowest: float


@dataclass(frozen=True)
class Exposure:
    """Exposure category of ASCE 7-05 to 7-16: power-law number [-] and gradient height [m]."""

    alpha: float
    gradient: float


EN_TERRAIN: dict[str, Roughness] = {
    "0": Roughness(0.003, 1.0),
    "I": Roughness(0.01, 1.0),
    "II": Roughness(0.05, 2.0),
    "III": Roughness(0.3, 5.0),
    "IV": Roughness(1.0, 10.0),
}
ASCE_EXPOSURE: dict[str, Exposure] = {
    "B": Exposure(7.0, 1200.0 * FOOT),
    "C": Exposure(9.5, 900.0 * FOOT),
    "D": Exposure(11.5, 700.0 * FOOT),
}
# Words of the job document and the category each stands for in either form (house rule).
TERRAIN_WORDS: dict[str, tuple[str, str]] = {
    "open water": ("0", "D"),
    "flat": ("I", "C"),
    "open": ("II", "C"),
    "suburb": ("III", "B"),
    "city": ("IV", "B"),
}


def en_mean_share(height: ArrayLike, category: str) -> Floats:
    """10-minute mean speed at heights [m] over the basic speed [-], the mean at 10 m over open country (terrain II).

    No hill in it: on a crest the wind is stronger than this.

    Source: EN 1991-1-4:2005, Eq. 4.3 to 4.5 and Table 4.1 (c_r = k_r ln(z/z0), k_r = 0.19 (z0/0.05)^0.07).
    Checked by: tests/handbook/test_wind.py
    """
    terrain = EN_TERRAIN[category]
    factor = 0.19 * (terrain.length / EN_TERRAIN["II"].length) ** 0.07
    return np.asarray(factor * _log_height(height, terrain))


def en_turbulence(height: ArrayLike, category: str) -> Floats:
    """Turbulence intensity [-] at heights [m]: standard deviation of the gusts over the mean.

    Source: EN 1991-1-4:2005, Eq. 4.7 with k_I = 1 and no hill.
    Checked by: tests/handbook/test_wind.py
    """
    return np.asarray(TURBULENCE / _log_height(height, EN_TERRAIN[category]))


def en_exposure(height: ArrayLike, category: str) -> Floats:
    """Peak pressure at heights [m] over the pressure of the basic mean speed [-]: (1 + 7 I) c_r squared.

    Source: EN 1991-1-4:2005, Eq. 4.8 and 4.9.
    Checked by: tests/handbook/test_wind.py
    """
    return np.asarray((1.0 + 7.0 * en_turbulence(height, category)) * en_mean_share(height, category) ** 2)


def asce_exposure(height: ArrayLike, category: str) -> Floats:
    """Pressure of a 3-second gust at heights [m] over that at 33 ft in open country [-], K_z.

    Source: ASCE 7-05 to 7-16, velocity pressure exposure coefficient: 2.01 (z/z_g)^(2/alpha), z not below 15 ft.
    Checked by: tests/handbook/test_wind.py
    """
    exposure = ASCE_EXPOSURE[category]
    z = np.maximum(np.asarray(height, float), ASCE_LOWEST)
    return np.asarray(2.01 * (z / exposure.gradient) ** (2.0 / exposure.alpha))


def gust_share(height: ArrayLike, form: Form, terrain: str) -> Floats:
    """Gust at heights [m] over the gust at 10 m in open country [-].

    The speed whose steady pressure equals the peak pressure of the standard. Both forms are for wide stretches of one
    terrain: a single gap in a town can funnel more.

    `terrain` is a word of TERRAIN_WORDS. Raises BadInput for another word.

    Source: EN 1991-1-4:2005, Eq. 4.8; ASCE 7-05 to 7-16, K_z.
    Checked by: tests/handbook/test_wind.py
    """
    if terrain not in TERRAIN_WORDS:
        raise BadInput(f"Terrain is one of {', '.join(TERRAIN_WORDS)}, not {terrain!r}.", "standing.terrain")
    en, asce = TERRAIN_WORDS[terrain]
    if form == "ASCE":
        return np.asarray(np.sqrt(asce_exposure(height, asce)))
    return np.asarray(np.sqrt(en_exposure(height, en) / en_exposure(STATION, "II")))


def reference_gust(speed: float, averaging: Averaging) -> float:
    """The 3-second gust [m/s] at 10 m in open country behind a recorded speed [m/s].

    A gust comes back as it is: the peak is in it already. A 10-minute mean is multiplied by sqrt(c_e) = 1.53 once.

    Raises BadInput for a speed that is negative or above 150 m/s.

    Source: EN 1991-1-4:2005, Eq. 4.8 at 10 m, terrain II.
    Checked by: tests/handbook/test_wind.py
    """
    if not 0.0 <= speed <= 150.0:
        raise BadInput(f"A wind of {speed:.0f} m/s cannot be: check the number and its unit.", "standing.design_gust")
    return speed if averaging == "gust" else speed * float(np.sqrt(en_exposure(STATION, "II")))


def pressure(speed: ArrayLike, density: float = AIR_DENSITY) -> Floats:
    """Steady pressure [Pa] of wind of these speeds [m/s].

    Source: Bernoulli, q = rho U2/2; ASCE 7 prints 0.00256 psf per (mile/h)2, the same with 1.225 kg/m3.
    Checked by: tests/handbook/test_wind.py
    """
    return np.asarray(0.5 * density * np.asarray(speed, float) ** 2)


def _log_height(height: ArrayLike, terrain: Roughness) -> Floats:
    z = np.maximum(np.asarray(height, float), terrain.lowest)
    return np.asarray(np.log(z / terrain.length))
