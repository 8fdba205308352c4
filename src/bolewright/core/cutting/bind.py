"""What a section does to the saw: which side is squeezed, which side to start, what the kerf does, what is let go.

Signs: force and moment act ON THE DISTAL PART (the part towards the tip) at the section, from the rest of the tree;
the axis runs from butt to tip. Then tension is force against the axis, and bending squeezes the side axis x moment:
a log lying on two ends is squeezed on top, an overhanging end is squeezed below.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.vectors import clock_direction, twelve_oclock, unit

Array = NDArray[np.float64]

FIRST_CUT_SHARE = 1.0 / 3.0  # of the diameter: chain saw operator manuals; USDA Forest Service, Saws that Sing
QUIET_SHARE = 1e-3  # of green bending strength: below it the fibres neither pinch nor spring (common practice)
TOP_HOURS = 1.5  # within this of 12 or 6 it is a top or bottom bind, between them a side bind (common practice)
PLUMB = 0.94  # of 1: a stem within 20 degrees of plumb has no top or bottom side (common practice)
SPRING_POLE_DIAMETER = 0.15  # m, 6 in (common practice)
SPRING_POLE_SHARE = 0.25  # of green bending strength in the squeezed or stretched fibres (common practice)


class BindKind(StrEnum):
    """The five binds of the trade, and none."""

    TOP = "top bind"
    BOTTOM = "bottom bind"
    SIDE = "side bind"
    END = "end bind"
    TWIST = "twist"
    NONE = "no bind"


@dataclass(frozen=True)
class CutSection:
    """The wood at the cut: outside diameter [m], area [m2] and bending inertia [m4] of what is sound."""

    diameter: float
    area: float
    inertia: float

    def __post_init__(self) -> None:
        if not (self.diameter > 0.0 and self.area > 0.0 and self.inertia > 0.0):
            raise BadInput("The wood at a cut needs a diameter and sound wood above zero.")


@dataclass(frozen=True)
class SectionLoad:
    """What goes through a section, one value a sample.

    axial (B,) [N] + tension; shear, bending (B,) [N, N m] sizes; torsion (B,) [N m] about the axis; compression (B, 3)
    unit vector to the squeezed side; clock (B,) [h] of it; bending_stress, axial_stress (+ tension), torsion_stress
    (B,) [Pa]; share (B,) bending stress over green bending strength.
    """

    axial: Array
    shear: Array
    bending: Array
    torsion: Array
    compression: Array
    clock: Array
    bending_stress: Array
    axial_stress: Array
    torsion_stress: Array
    share: Array
    strength: Array


@dataclass(frozen=True)
class Advice:
    """How to saw: kind of bind, where to start and how deep [m] at most, where to finish [h].

    agree: share of samples with this kind; spring_pole: slender and bent like a bow; words in the trade's language.
    """

    kind: BindKind
    compression_clock: float
    start_clock: float
    start_depth: float
    finish_clock: float
    agree: float
    spring_pole: bool
    words: str


def round_section(diameter: float, area_share: float = 1.0, bending_share: float = 1.0) -> CutSection:
    """The section of round wood [m, m2, m4]; the shares say what decay has left of area and bending inertia [-].

    Source: geometry, pi d^2 / 4 and pi d^4 / 64.
    Checked by: tests/unit/cutting/test_bind.py.
    """
    area, inertia = np.pi * diameter**2 / 4.0, np.pi * diameter**4 / 64.0
    return CutSection(diameter, float(area * area_share), float(inertia * bending_share))


def section_load(force: Array, moment: Array, axis: Array, section: CutSection, strength: Array | float) -> SectionLoad:
    """Axial force, shear, bending and torsion [N, N m] with the squeezed side and the stresses [Pa], per sample.

    Elastic stress of a straight round bar: knots, grain and the notch of the cut itself raise the real stress, so the
    share of strength errs low. Torsion stress takes the sound wood as round.
    force, moment (B, 3) [N, N m] on the distal part at the middle of the section; axis (3,) butt to tip; strength
    [Pa], one value or (B,).
    Raises BadInput for a strength of zero or less.
    Source: Timoshenko & Gere, Mechanics of Materials: flexure and torsion formulas.
    Checked by: tests/unit/cutting/test_bind.py.
    """
    power = np.broadcast_to(np.asarray(strength, dtype=float), force.shape[:1])
    if np.any(power <= 0.0):
        raise BadInput("Green bending strength must be above zero.")
    along = unit(axis)
    axial, torsion = -force @ along, moment @ along
    squeezed = np.cross(along, moment)
    bending = np.linalg.norm(squeezed, axis=1)
    shear = np.linalg.norm(force + axial[:, None] * along, axis=1)
    towards = np.where(bending[:, None] > 1e-12, squeezed / np.maximum(bending, 1e-300)[:, None], twelve_oclock(along))
    radius = section.diameter / 2.0
    stress = bending * radius / section.inertia
    return SectionLoad(
        axial=axial,
        shear=shear,
        bending=bending,
        torsion=torsion,
        compression=towards,
        clock=clocks(along, towards),
        bending_stress=stress,
        axial_stress=axial / section.area,
        torsion_stress=np.abs(torsion) * radius / (2.0 * section.inertia),
        share=stress / power,
        strength=power,
    )


def clocks(axis: Array, directions: Array) -> Array:
    """Clock positions (B,) [h], 0 < h <= 12, of directions (B, 3) seen along the axis (3,), butt to tip.

    Source: house rule, core.base.vectors (12 up, 3 right).
    Checked by: tests/unit/cutting/test_bind.py.
    """
    twelve, three = twelve_oclock(axis), clock_direction(axis, 3.0)
    hours = np.arctan2(directions @ three, directions @ twelve) * 12.0 / (2.0 * np.pi) % 12.0
    return np.where((hours < 1e-9) | (hours > 12.0 - 1e-9), 12.0, hours)


def bind_kinds(load: SectionLoad, axis: Array) -> NDArray[np.object_]:
    """The kind of bind of each sample (B,), as BindKind.

    No bind: every stress under 0.1 % of strength [-], or pulled harder than bent (the kerf opens all round). End bind:
    pressed harder than bent, so that every fibre is squeezed. Twist: torsion stress above the others. Else the clock
    decides. axis (3,).
    Source: the five binds as taught (timber buyers' and Forest Service saw courses: top, bottom, side, end and twist);
    thresholds are common practice.
    Checked by: tests/unit/cutting/test_bind.py.
    """
    from_twelve = np.minimum(load.clock, 12.0 - load.clock)
    plumb = abs(float(unit(axis)[2])) > PLUMB
    kinds = np.full(len(load.clock), BindKind.SIDE, dtype=object)
    if not plumb:
        kinds[from_twelve <= TOP_HOURS] = BindKind.TOP
        kinds[from_twelve >= 6.0 - TOP_HOURS] = BindKind.BOTTOM
    kinds[-load.axial_stress >= load.bending_stress] = BindKind.END
    kinds[load.torsion_stress > np.maximum(load.bending_stress, np.abs(load.axial_stress))] = BindKind.TWIST
    kinds[load.axial_stress >= np.maximum(load.bending_stress, load.torsion_stress)] = BindKind.NONE
    largest = np.maximum(load.bending_stress, np.maximum(np.abs(load.axial_stress), load.torsion_stress))
    kinds[largest < QUIET_SHARE * load.strength] = BindKind.NONE
    return kinds


def advise(load: SectionLoad, axis: Array, section: CutSection, sprung: bool = True) -> Advice:
    """How to saw here: the commonest bind of the samples, with the side to start, its depth [m] and the side to finish.

    First cut on the compression side, at most a third of the diameter; finish from the tension side. Where samples
    disagree the words say so. axis (3,). sprung: something beyond the cut holds the wood bent; a limb bent by its own
    weight alone is no spring pole.
    Source: chain saw operator manuals (supported at one end: first cut from below, one third; at both ends: from above)
    and USDA Forest Service, Saws that Sing.
    Checked by: tests/unit/cutting/test_bind.py.
    """
    kinds = bind_kinds(load, axis)
    names, counts = np.unique(kinds.astype(str), return_counts=True)
    kind = BindKind(names[int(np.argmax(counts))])
    agree = float(counts.max() / len(kinds))
    same = kinds == kind
    middle = np.sum(load.compression[same] * load.bending[same, None], axis=0)
    if float(np.linalg.norm(middle)) < 1e-12:
        middle = twelve_oclock(axis)
    clock = float(clocks(axis, middle[None])[0])
    pole = sprung and is_spring_pole(load, section)
    start, depth, finish = clock, FIRST_CUT_SHARE * section.diameter, _opposite(clock)
    if kind is BindKind.NONE:
        start, depth, finish = 12.0, section.diameter, 12.0
    elif kind is BindKind.END:
        start, finish = 12.0, 12.0
    words = _words(kind, start, finish, agree, pole, float(np.median(load.axial)))
    return Advice(kind, clock, start, depth, finish, agree, pole, words)


def is_spring_pole(load: SectionLoad, section: CutSection) -> bool:
    """Whether this is slender wood bent like a bow: under 0.15 m [m] and, in one sample of twenty, 25 % of strength.

    Source: common practice; what follows from it is OSHA CPL 2-1.22 on 29 CFR 1910.266(h)(2)(iv).
    Checked by: tests/unit/cutting/test_bind.py.
    """
    return section.diameter <= SPRING_POLE_DIAMETER and float(np.percentile(load.share, 95.0)) >= SPRING_POLE_SHARE


def kerf_change(movement: Array, axis: Array, towards: Array, diameter: float) -> Array:
    """Change of the kerf's width (B,) [m] at the bark of the side `towards` when the last fibre goes; - closes.

    The kerf's own width is not counted: it shuts when the change reaches minus the width of the chain. Before the last
    fibre goes the kerf moves less. movement (B, 6) [m, rad]: of the distal face less the proximal face, at the middle
    of the section; axis (3,); towards (B, 3) or (3,) unit, e.g. SectionLoad.compression; diameter [m].
    Source: kinematics of two rigid faces.
    Checked by: tests/unit/cutting/test_bind.py.
    """
    arm = np.broadcast_to(np.asarray(towards, dtype=float), (len(movement), 3)) * (diameter / 2.0)
    return np.asarray((movement[:, :3] + np.cross(movement[:, 3:], arm)) @ unit(axis))


def release_energy(force: Array, moment: Array, movement: Array) -> Array:
    """Energy let go (B,) [J] when the section is severed: half of the force before times the movement after.

    Elastic and slow: it is the most the wood and its supports give back while the force at the cut runs down to zero.
    A part that then falls free gains its weight times its drop on top. force, moment (B, 3) [N, N m] on the distal
    part before; movement (B, 6) [m, rad] of the distal face less the proximal face.
    Source: Clapeyron's theorem (strain energy is half the work of the final loads), e.g. Timoshenko & Gere.
    Checked by: tests/unit/cutting/test_bind.py.
    """
    work = np.sum(force * movement[:, :3], axis=1) + np.sum(moment * movement[:, 3:], axis=1)
    return np.asarray(0.5 * np.abs(work))


def side_words(clock: float) -> str:
    """A clock position [h] in words, SI clock of core.base.vectors: "on top", "on the right", "below" ...

    Source: house rule.
    Checked by: tests/unit/cutting/test_bind.py.
    """
    right = ["on top", "on the upper right", "on the right", "on the lower right"]
    names = [*right, "below", "on the lower left", "on the left", "on the upper left"]
    return names[round(clock / 1.5) % 8]


def _opposite(clock: float) -> float:
    return clock + 6.0 if clock <= 6.0 else clock - 6.0


def _words(kind: BindKind, start: float, finish: float, agree: float, pole: bool, axial: float) -> str:
    squeezed, other = side_words(start), side_words(finish)
    how = {
        BindKind.NONE: "No bind to speak of: saw through from the top, and watch the kerf.",
        BindKind.END: "End bind: the kerf closes all round. Saw down from the top and wedge the kerf early.",
        BindKind.TWIST: f"Twist: the parts turn as the last fibre goes. Start {squeezed}, in small cuts.",
    }
    text = how.get(
        kind,
        f"{kind.capitalize()}: squeezed {squeezed}. Start {squeezed}, no deeper than a third; finish {other}.",
    )
    if kind is BindKind.NONE and axial > 0.0:
        text = "No bind: the wood hangs and the kerf opens all round. It drops as the last fibre goes."
    if agree < 0.8:
        text += f" Only {round(100.0 * agree)} % of the samples agree: read the kerf and change sides if it closes."
    if pole:
        text += " Spring pole: leave it or use a machine; else everyone but the sawyer two tree lengths away."
    return text
