"""What no source was read for and a standing tree is worked out with: recalled, common practice, usual errors."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bolewright.core.base.sourced import Status
from bolewright.core.standing.drag import STEM_DRAG
from bolewright.core.standing.unknowns import WOOD_FACTOR
from bolewright.core.wood import CLEAR_WOOD_FACTOR
from bolewright.planning.both import in_feet, in_metres, in_us_density
from bolewright.planning.defaults import SIZE_SPREAD
from bolewright.planning.filled import job_defaults
from bolewright.planning.results import FilledIn
from bolewright.planning.standing import defaults
from bolewright.planning.standing.tests import Tested
from bolewright.planning.standing.tree import Stood

NO_SPREAD = "no spread was written: the usual error of such a measurement"
PROFILES = {
    "ASCE": "ASCE 7-05 to 7-16, K_z: formula read second-hand, its table in print at 30 ft only",
    "EN": "EN 1991-1-4:2005, Eq. 4.3 to 4.9: read second-hand, not in the standard",
}


def assumed(tree: Stood, tested: Tested) -> list[FilledIn]:
    """Every such value, with its mark."""
    return [*_recalled(tree), *_practice(tree, tested), *_usual_errors(tree)]


def _recalled(tree: Stood) -> Iterator[FilledIn]:
    """Values from memory."""
    low, likely, high = (CLEAR_WOOD_FACTOR * f for f in (WOOD_FACTOR.low, WOOD_FACTOR.likely, WOOD_FACTOR.high))
    share = f"{likely:.0%} ({low:.0%} to {high:.0%})"
    why = "knots and grain in a whole stem"
    yield FilledIn("share of clear-wood strength", share, why, "recalled", Status.MEMORY)
    yield FilledIn("drag of the bare stem", f"{STEM_DRAG:.1f}", "a rough round stem", "recalled", Status.MEMORY)
    form, terrain = tree.standing.wind_form, tree.standing.terrain
    why = "how the wind grows with height over such ground"
    yield FilledIn("wind with height", f"as over {terrain} ground", why, PROFILES[form], Status.MEMORY)
    if tree.standing.plate_diameter is not None and tree.standing.plate_depth is not None:
        plate = defaults.PLATE_DENSITY
        why, us = "moist loam with roots, for the cross-check only", in_us_density(plate, plate, plate)
        yield FilledIn("density of the root plate", f"{plate:.0f} kg/m3", why, "recalled", Status.MEMORY, us)


def _practice(tree: Stood, tested: Tested) -> Iterator[FilledIn]:
    """Values by common practice."""
    if tested.sections or tree.job.tree.decay:
        band = f"{100 * tested.shell.low:+.1f} to {100 * tested.shell.high:+.1f} cm"
        why = "error of every depth of sound wood, the widest written or read"
        us = f"{tested.shell.low / 0.0254:+.1f} to {tested.shell.high / 0.0254:+.1f} in"
        yield _judged("depth of sound wood", band, why, us)
    if tested.sections:
        why = "how far up and down the stem the shell of a test is taken on"
        yield _judged("reach of a test", in_metres(defaults.TEST_REACH), why, in_feet(defaults.TEST_REACH))
    if tree.job.tree.limb:
        sail = defaults.LIMB_SAIL
        words = f"{sail.low:.1f} to {sail.high:.1f} of its share of the stem's section"
        why = "share of the crown's sail on a named limb; the likely share by the pipe rule, Grabosky et al. 2007"
        yield _judged("sail of a limb", words, why)
    if tree.standing.neighbours in ("standing", "lost") and tree.standing.shelter is None:
        taken = defaults.SHELTER
        words = f"{taken.likely:.0%} of the wind's speed ({taken.low:.0%} to {taken.high:.0%})"
        yield _judged("standing.shelter", words, "what neighbours take; shown beside the answer, not in it")
    yield from (row for row in job_defaults(tree.job) if row.path == "limits.share")


def _usual_errors(tree: Stood) -> Iterator[FilledIn]:
    """Errors taken for what was measured and written without one."""
    standing = tree.standing
    if not standing.height.has_spread:
        yield _judged("spread of the height", f"± {defaults.HEIGHT_SPREAD:.0%}", NO_SPREAD)
    if not standing.crown_width.has_spread:
        yield _judged("spread of the crown width", f"± {defaults.WIDTH_SPREAD:.0%}", NO_SPREAD)
    if tree.lean > 0.0 and (standing.lean is None or not standing.lean.has_spread):
        yield _judged("spread of the lean", f"± {math.degrees(defaults.LEAN_SPREAD):.1f} deg", NO_SPREAD)
    if not any(station.diameter.has_spread for station in tree.job.tree.stem):
        yield _judged("spread of the diameters", f"± {SIZE_SPREAD:.0%}", NO_SPREAD)


def _judged(what: str, value: str, why: str, us: str = "") -> FilledIn:
    return FilledIn(what, value, why, "judgement", Status.COMMON_PRACTICE, us)
