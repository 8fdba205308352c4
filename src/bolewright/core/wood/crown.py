"""Branch and leaf mass that nobody measured, per square metre of limb basal area.

Total dry mass above ground follows from dbh; measured shares of branches and leaves split it. The limbs share it by
basal area: the basal areas of all limbs add up to about that of the stem (area preservation).

The remainder method (stem, bark and leaf ratios of Jenkins et al. 2003 taken off the total) is NOT used for the
branches: its branch share falls as the tree grows (0.43 of the mass at dbh 10 cm, 0.19 at 50 cm for broadleaves),
because its stem is the merchantable bole, while felled trees show the share growing (0.20 to 0.32). On a large
broadleaf the remainder would leave out about two fifths of the branches, on the side that hurts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Status

Floats = NDArray[np.float64]
CENTIMETRE = 0.01
ONE_SIDED_95 = 1.645
TOTAL_SCATTER = 0.20  # sd of ln(measured/total line), felled maples, birches and spruces: 0.15 to 0.22
SMALLEST_DBH = 0.025  # m, lower end of the dry-mass relation
# Water over dry mass of live leaves in leaf season: from memory.
LEAF_MOISTURE: dict[str, Range] = {"broadleaf": Range(1.2, 1.6, 2.2), "conifer": Range(0.9, 1.2, 1.6)}


class CrownRelation(Protocol):
    """The published numbers behind one tree's allowance (see reference.crown_relation)."""

    @property
    def b0(self) -> float: ...
    @property
    def b1(self) -> float: ...
    @property
    def branch(self) -> float: ...
    @property
    def branch_sd(self) -> float: ...
    @property
    def leaf(self) -> float: ...
    @property
    def leaf_sd(self) -> float: ...
    @property
    def largest_dbh(self) -> float: ...
    @property
    def source(self) -> str: ...


@dataclass(frozen=True)
class CrownAllowance:
    """Green mass per limb basal area [kg/m2]: all branch wood and bark at and beyond the limb's base, and leaves."""

    branch_per_area: Range
    foliage_per_area: Range
    status: Status
    source: str
    note: str


def dry_mass(dbh: ArrayLike, b0: float, b1: float) -> Floats:
    """Oven-dry mass above ground [kg] of whole trees with stem diameter `dbh` [m] at breast height.

    One line per species group through many forest stands; a single tree lies within 0.7 to 1.4 of it. Beyond the
    largest tree behind a line (0.56 to 0.78 m for broadleaves) it is an extrapolation.

    `b0`, `b1` [-] of the group, for kg and cm.

    Raises BadInput when a diameter is below 2.5 cm.

    Source: Jenkins et al. 2003, Forest Science 49(1):12-35, Eq. 1 and Table 4.
    Checked by: tests/handbook/test_species_crowns.py
    """
    diameter = np.asarray(dbh, float)
    if np.any(diameter < SMALLEST_DBH):
        raise BadInput("The crown fill needs a stem diameter of at least 2.5 cm (1 in).", "tree.dbh")
    return np.asarray(np.exp(b0 + b1 * np.log(diameter / CENTIMETRE)))


def crown_allowance(
    dbh: float,
    relation: CrownRelation,
    kind: Literal["broadleaf", "conifer"],
    wood_moisture: float,
    leaf_moisture: Range | None = None,
) -> CrownAllowance:
    """What to add for unmeasured branches and leaves, green [kg per m2 of limb basal area], low, likely and high.

    The share of the felled trees is a mean of forest-grown ones: open-grown crowns are heavier, so the likely value
    errs light for a lawn tree. Limb basal areas that add up to less than the stem's leave mass out, again light.
    The spread joins the scatter of the mass line and of the shares as independent.

    `dbh` [m]; `wood_moisture` [-] of the species; `leaf_moisture` [-] water over dry mass, by default from memory.

    Raises BadInput when the diameter is below 2.5 cm.

    Source: Jenkins et al. 2003 (total); Falster et al. 2015, Ecology 96:1445 (shares); area preservation and leaf
    mass linear in branch basal area: Grabosky, Gilman and Harchick 2007, Urban For. Urban Green. 6:159-167.
    Checked by: tests/handbook/test_species_crowns.py
    """
    water = leaf_moisture or LEAF_MOISTURE[kind]
    per_area = float(dry_mass(dbh, relation.b0, relation.b1)) / (math.pi / 4.0 * dbh**2)
    branch = _spread(per_area * relation.branch * (1.0 + wood_moisture), relation.branch_sd / relation.branch)
    leaf = _spread(per_area * relation.leaf, relation.leaf_sd / relation.leaf)
    foliage = Range(leaf.low * (1.0 + water.low), leaf.likely * (1.0 + water.likely), leaf.high * (1.0 + water.high))
    return CrownAllowance(branch, foliage, Status.ESTIMATE, relation.source, _note(dbh, relation, leaf_moisture))


def _spread(likely: float, share_variation: float) -> Range:
    """Range of a product of the mass line and a share, both taken as lognormal."""
    scatter = math.hypot(TOTAL_SCATTER, math.sqrt(math.log1p(share_variation**2)))
    stretch = math.exp(ONE_SIDED_95 * scatter)
    return Range(likely / stretch, likely, likely * stretch)


def _note(dbh: float, relation: CrownRelation, leaf_moisture: Range | None) -> str:
    notes = ["from forest-grown trees: open-grown crowns are heavier"]
    if dbh > relation.largest_dbh:
        notes.append(f"the stem is thicker than the {relation.largest_dbh * 100:.0f} cm of the trees behind it")
    if leaf_moisture is None:
        notes.append("leaf moisture from memory")
    return "; ".join(notes)
