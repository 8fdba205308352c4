"""What is not known exactly of a standing tree, from what was written and what is filled in."""

from __future__ import annotations

from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Status
from bolewright.core.standing.crown import iced_solidity
from bolewright.core.standing.unknowns import Unknowns
from bolewright.core.wood import POWER_LAWS, green_strength
from bolewright.planning.both import in_inches
from bolewright.planning.results import FilledIn
from bolewright.planning.standing import defaults
from bolewright.planning.standing.assumed import assumed
from bolewright.planning.standing.tests import Tested
from bolewright.planning.standing.tree import Stood, band
from bolewright.reference import cite
from bolewright.reference.standing import drag_for

ICE_SOURCE = "geometry; mean twig by judgement, density of ice from memory"


def unknowns_of(tree: Stood, tested: Tested, filled: list[FilledIn]) -> Unknowns:
    """Ranges of all that is not known, but for the roots."""
    species, standing, spread = tree.grown.species, tree.standing, tree.grown.spread
    drag, filling = _crown(tree, filled)
    bending = species.bending_strength
    scatter = POWER_LAWS[species.kind, "bending"].scatter if bending.status is Status.ESTIMATE else 0.0
    strength = green_strength(bending.value, "bending", scatter)
    words = f"{strength.likely / 1e6:.1f} MPa ({strength.low / 1e6:.1f} to {strength.high / 1e6:.1f})"
    why = f"clear green {species.common_name} times the share below"
    us = f"{_psi(strength.likely)} psi ({_psi(strength.low)} to {_psi(strength.high)})"
    filled.append(FilledIn("bending strength", words, why, cite(bending.source), bending.status, us))
    filled += assumed(tree, tested)
    return Unknowns(
        drag=drag,
        filled=filling,
        strength=strength,
        width=band(standing.crown_width, defaults.WIDTH_SPREAD),
        height=band(standing.height, defaults.HEIGHT_SPREAD),
        size=spread.size,
        density=spread.wood,
        crown_mass=spread.small_wood,
        foliage_mass=defaults.ICE_SPREAD if standing.season == "iced" else spread.foliage,
        lean=_lean_band(tree),
        stiffness=spread.stiffness,
        shell=tested.shell if tested.sections or tree.job.tree.decay else Range.exact(0.0),
    )


def _lean_band(tree: Stood) -> Range:
    lean = tree.standing.lean
    if lean is not None and lean.has_spread and lean.likely > 0.0:
        return band(lean, 0.0)
    if tree.lean <= 0.0:
        return Range.exact(1.0)
    share = min(defaults.LEAN_SPREAD / tree.lean, 0.5)
    return Range(1.0 - share, 1.0, 1.0 + share)


def _crown(tree: Stood, filled: list[FilledIn]) -> tuple[Range, Range]:
    """Drag number and filled share for the season judged."""
    species, standing = tree.grown.species, tree.standing
    bare = standing.season in ("bare", "iced") and species.kind == "broadleaf"
    drag = drag_for(species.scientific_name, species.kind)
    if bare:
        drag = defaults.BARE_DRAG
    if standing.season == "iced":
        drag = defaults.ICED_DRAG
    kind = "bare" if bare else "in leaf"
    share = defaults.FILLED[kind]
    value = share.value
    if standing.crown_filled is not None:
        given = standing.crown_filled
        value = Range(max(given.low, 0.02), max(given.likely, 0.02), max(given.high, 0.02))
    else:
        text = f"{value.likely:.0%} ({value.low:.0%} to {value.high:.0%})"
        filled.append(FilledIn("standing.crown_filled", text, f"a crown {kind}", share.source, share.status))
    if standing.season == "iced":
        thickness = standing.ice.likely if standing.ice is not None else defaults.ICE
        ends = iced_solidity([value.low, value.likely, value.high], thickness)
        value = Range(float(ends[0]), float(ends[1]), float(ends[2]))
        words = f"{thickness * 1000:.0f} mm of ice on twigs of 4 mm"
        why = "weight and area of ice follow from the mean twig"
        us = f"{in_inches(thickness, 0.01)} of ice on twigs of 0.16 in"
        filled.append(
            FilledIn(
                "standing.ice",
                words,
                why,
                ICE_SOURCE,
                Status.COMMON_PRACTICE,
                us,
            )
        )
    number = f"{drag.value.likely:.2f} ({drag.value.low:.2f} to {drag.value.high:.2f})"
    why = "drag number on the area seen in still air; large crowns were never in a tunnel"
    filled.append(
        FilledIn(
            "drag of the crown", f"{number} at 20 m/s and above", why, drag.source, drag.status,
            f"{number} at 45 mph and above",
        )
    )  # fmt: skip
    return drag.value, value


def _psi(pascals: float) -> str:
    """A strength in pounds per square inch, to the nearest ten."""
    return f"{round(pascals / 6894.757, -1):,.0f}"
