"""A crown as slices: how wide its outline is at each height, what shows through it, and what ice adds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput

Floats = NDArray[np.float64]
SHAPES = ("round", "dome", "cone", "column", "fan")
SLICES = 24
ICE_DENSITY = 900.0  # kg/m3 of glaze, from memory
TWIG = 0.004  # m, mean thickness of what shows in a bare crown, by area (common practice)


@dataclass(frozen=True)
class Slices:
    """Horizontal slices of a crown, low to high."""

    height: Floats  # (n,) [m] of the middle of each
    width: Floats  # (n,) [m] of the outline there
    area: Floats  # (n,) [m2] of the outline seen from the side


def crown_slices(base: float, top: float, width: float, shape: str, count: int = SLICES) -> Slices:
    """The outline of a crown between two heights [m] with its greatest width [m], cut in slices.

    round: an ellipse; dome: widest at its base; cone: a point at the top; column: the same width all the way;
    fan: widest at the top. A triangle or rectangle is a rough outline: measured crowns were mispredicted by both.

    Raises BadInput for a crown without height or width, or a shape not known.

    Source: geometry; the warning: Kane and Smiley 2006, Can. J. For. Res. 36(8).
    Checked by: tests/unit/standing/test_crown.py
    """
    if not 0.0 <= base < top:
        raise BadInput("The crown base has to lie below the top of the tree.", "standing.crown_base")
    if width <= 0.0:
        raise BadInput("The crown needs a width above zero.", "standing.crown_width")
    edges = np.linspace(0.0, 1.0, count + 1)
    share = np.diff(_outline_area(edges, shape)) * count  # mean width in the slice, over the greatest
    middle = (edges[1:] + edges[:-1]) / 2.0
    thickness = (top - base) / count
    return Slices(base + middle * (top - base), width * share, width * share * thickness)


def _outline_area(t: Floats, shape: str) -> Floats:
    """Area of the outline from its base up to a share t of its height, for width and height 1 (closed forms)."""
    if shape == "round":
        u = 2.0 * t - 1.0
        return np.asarray((u * np.sqrt(np.maximum(1.0 - u**2, 0.0)) + np.arcsin(u) + np.pi / 2.0) / 4.0)
    if shape == "dome":
        return np.asarray((t * np.sqrt(np.maximum(1.0 - t**2, 0.0)) + np.arcsin(t)) / 2.0)
    if shape == "cone":
        return np.asarray(t - t**2 / 2.0)
    if shape == "fan":
        return np.asarray(t**2 / 2.0)
    if shape == "column":
        return np.asarray(t)
    raise BadInput(f"The shape of a crown is one of {', '.join(SHAPES)}, not {shape!r}.", "standing.crown_shape")


def iced_solidity(solidity: ArrayLike, thickness: float, twig: float = TWIG) -> Floats:
    """Share of the outline that wood and ice fill [-] when every twig carries ice of this thickness [m].

    Twigs that grow towards each other overlap, so it never passes the whole.

    Source: geometry: each twig is 2 t wider; overlap as for random cover, 1 - exp.
    Checked by: tests/unit/standing/test_crown.py
    """
    bare = np.clip(np.asarray(solidity, float), 0.0, 0.999)
    return np.asarray(1.0 - (1.0 - bare) ** ((twig + 2.0 * thickness) / twig))


def ice_mass(bare_area: ArrayLike, thickness: float, twig: float = TWIG) -> Floats:
    """Mass [kg] of ice of this thickness [m] all round twigs that show a bare area [m2] from the side.

    Twig length is shown area over thickness, times 4/pi for twigs that point at the viewer. It stands or falls
    with the mean twig thickness, which is common practice: a factor 2 either way.

    Source: geometry of a tube round a rod, pi t (d + t) per length; mean projection of a rod pi/4.
    Checked by: tests/unit/standing/test_crown.py
    """
    length = np.asarray(bare_area, float) / twig * 4.0 / np.pi
    return np.asarray(ICE_DENSITY * np.pi * thickness * (twig + thickness) * length)
