"""Sheets of plywood and OSB: section, evenly loaded spans, and a wheel on a sheet on soil, inside and at a joint."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bolewright.core.base.errors import BadInput
from bolewright.core.ground.foundation import OnSoil, plate_edge, plate_inside

INCH, FOOT, POUND = 0.0254, 0.3048, 4.4482216152605
MASS_DENSITY = 578.0  # kg/m3, 3.0 psf per inch (from memory)
JOINTS = ("inside", "lapped", "butted")


@dataclass(frozen=True)
class Panel:
    """A sheet per metre of width: stiffness [N m] and allowable moment [N m/m], along and across its face grain."""

    name: str
    thickness: float
    stiffness_along: float
    stiffness_across: float
    moment_along: float
    moment_across: float
    shear_through: float = 0.0  # allowable through the thickness [N/m]; 0 where not known

    @property
    def mass_per_area(self) -> float:
        """Mass of the sheet [kg/m2]: about 3.0 lb/ft2 per inch of thickness (from memory)."""
        return self.thickness * MASS_DENSITY


@dataclass(frozen=True)
class WheelOnPanel:
    """A wheel on a sheet at its worst place: sag [m], pressure on soil [N/m2], bending over what is allowed [-]."""

    sag: float
    pressure: float
    bending: float
    joint: str


def sheet_section(thickness: float) -> tuple[float, float, float]:
    """Area [m], inertia [m3] and section modulus [m2] of a whole sheet per metre of width, all plies counted.

    Picture: a solid strip. A real sheet has plies across that do little: errs high for strength.
    Parameters: thickness [m]. Raises: BadInput. Plain rectangle.
    Source: geometry; the trade tables print 12 t, t^3 and 2 t^2 per foot (PFS TECO table C).
    Checked by: tests/handbook/test_panels.py
    """
    if thickness <= 0.0:
        raise BadInput("A sheet has a thickness above zero.")
    return thickness, thickness**3 / 12.0, thickness**2 / 6.0


def even_load(
    moment: float, stiffness: float, span: float, spans: int, rolling_shear: float = math.inf, sag_share: float = 240.0
) -> tuple[float, float, float]:
    """Even load a sheet may carry over joists by bending, by rolling shear and by sag [N/m2].

    Picture: joists 1.5 in wide; shear on the clear span, sag on the clear span and a quarter inch.
    Parameters: allowable moment [N m/m], EI [N m], span middle to middle [m], 1, 2 or 3 spans; rolling_shear Fs Ib/Q
    [N/m]; sag_share, span over the sag allowed [-]. Raises: BadInput.
    Source: PFS TECO, Design Capacities for Structural Plywood: M = w L^2 / 10 (three spans) or / 8, shear
    0.6 w l (three spans), 0.5 (one), 0.625 (two), sag w l^4 / 1743, 921.6 or 2220 EI in inch-pound form.
    Checked by: tests/handbook/test_panels.py
    """
    if spans not in (1, 2, 3) or span <= 2.0 * INCH:
        raise BadInput("A sheet runs over 1, 2 or 3 spans of more than two inches.")
    over_moment, over_shear, sag_number = {1: (8.0, 0.5, 921.6), 2: (8.0, 0.625, 2220.0), 3: (10.0, 0.6, 1743.0)}[spans]
    clear = span - 1.5 * INCH
    bending = over_moment * moment / span**2
    shear = rolling_shear / (over_shear * clear)
    length = clear + 0.25 * INCH
    # the printed number takes load per square foot, inches and EI per foot: 12 of them make it plain
    return bending, shear, sag_number / 12.0 * stiffness * (span / sag_share) / length**4


def wheel_on_panel(
    load: float,
    radius: float,
    panel: Panel,
    modulus: float,
    joint: str = "lapped",
    layers: int = 1,
    strength_share: float = 1.0,
) -> WheelOnPanel:
    """A wheel standing on a sheet on soil: sag [m], peak pressure [N/m2] and share of the allowable bending [-].

    Picture: inside a sheet it dishes all round; at a butted joint one edge carries all of the wheel, at a lapped one
    two edges share it. Layers lie loose, so their stiffness adds and each takes its share. The sheet's two
    directions are brought to one by stretching the plan. Errs high at an edge (the load is drawn together on the
    edge line), low on soil with hard and soft spots.
    Parameters: wheel load [N], radius of its contact [m], panel, subgrade modulus [N/m3], joint one of JOINTS,
    layers, strength_share [-] of the table's strength (wet, short load). Raises: BadInput.
    Source: orthotropic plate with H^2 = Dx Dy (Huber); `plate_inside`, `plate_edge`.
    Checked by: tests/handbook/test_panels.py
    """
    if joint not in JOINTS or layers < 1 or strength_share <= 0.0 or radius <= 0.0:
        raise BadInput("A sheet joint is inside, lapped or butted, with at least one layer and a wheel contact.")
    stiffness = layers * math.sqrt(panel.stiffness_along * panel.stiffness_across)
    uneven = (panel.stiffness_along / panel.stiffness_across) ** 0.25
    inside = plate_inside(load, stiffness, modulus, radius)
    found = [(inside, "inside")]
    if joint != "inside":
        share = 0.5 if joint == "lapped" else 1.0
        edge = plate_edge(load * share, stiffness, modulus, radius)
        # two lapped edges sag together: the soil under the lap feels the pressure of one of them once
        found.append((OnSoil(edge.sag, edge.pressure, edge.moment), joint))
    allowed = (panel.moment_along, panel.moment_across)
    worst = max(found, key=lambda pair: pair[0].pressure)
    bending = max(
        max(here.moment * uneven / allowed[0], here.moment / uneven / allowed[1]) / layers / strength_share
        for here, _ in found
    )
    return WheelOnPanel(max(here.sag for here, _ in found), worst[0].pressure, bending, worst[1])
