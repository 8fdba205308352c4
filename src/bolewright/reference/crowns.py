"""Published relations for filling in what was not measured of a crown: dry mass from dbh, and the parts' shares."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from bolewright.core.base.sourced import Status
from bolewright.reference.species import Kind, Species
from bolewright.reference.tables import Row, table

CENTIMETRES = 100.0  # in a metre


@dataclass(frozen=True)
class BiomassGroup:
    """Dry mass above ground = exp(b0 + b1 ln dbh), kg with dbh in cm (Jenkins et al. 2003, Table 4)."""

    group: int
    name: str
    kind: str
    b0: float
    b1: float
    largest_dbh: float  # [m] of the trees behind the relation; this limit alone is from memory
    source: str
    status: Status


@dataclass(frozen=True)
class CrownShare:
    """Share of the dry mass above ground in branches and in leaves, mean and standard deviation of felled trees."""

    kind: str
    trees: str
    dbh_from: float  # [m]
    dbh_below: float  # [m], infinite for the last class
    n: int
    branch: float
    branch_sd: float
    leaf: float
    leaf_sd: float
    largest_dbh: float  # [m]
    source: str
    status: Status


@dataclass(frozen=True)
class CrownRelation:
    """What the crown allowance of one tree is worked out from (see core.wood.crown)."""

    b0: float
    b1: float
    branch: float
    branch_sd: float
    leaf: float
    leaf_sd: float
    largest_dbh: float  # [m] the smaller of the two tables' limits
    source: str
    status: Status


@cache
def biomass_groups() -> dict[int, BiomassGroup]:
    """The ten groups of the dry-mass relation by number."""
    return {int(row["group"]): _group(row) for row in table("biomass_groups.csv")}


@cache
def crown_shares() -> tuple[CrownShare, ...]:
    """The class table of branch and leaf shares."""
    return tuple(_share(row) for row in table("crown_shares.csv"))


def component_ratio(kind: Kind, part: str, dbh: float) -> float:
    """Share of a part in the dry mass above ground, exp(a0 + a1/dbh) (Jenkins et al. 2003, Table 6), dbh in m.

    `part` is "foliage", "stem wood", "stem bark" or "coarse roots". Kept for comparison: the branch share that is
    left over falls with dbh, against what felled trees show, so crowns are not filled in from it.
    """
    row = next(row for row in table("biomass_ratios.csv") if row["kind"] == kind and row["part"] == part)
    return math.exp(float(row["a0"]) + float(row["a1"]) / (dbh * CENTIMETRES))


def crown_share(kind: str, dbh: float) -> CrownShare:
    """The class of the share table that a stem diameter (m) falls in; below the first class the first is given."""
    classes = [share for share in crown_shares() if share.kind == kind]
    return next((share for share in classes if dbh < share.dbh_below), classes[-1])


def crown_relation(species: Species, dbh: float) -> CrownRelation:
    """The relations for one tree of stem diameter `dbh` (m).

    All broadleaves use the deciduous trees and all conifers the evergreen ones: the other two classes of the table
    hold too few large trees. Evergreen broadleaves carry more leaf than this gives (0.043 against 0.027 of the mass
    at dbh 10-20 cm); larches less needle.
    """
    group = biomass_groups()[species.crown_group]
    share = crown_share(species.kind, dbh)
    return CrownRelation(
        b0=group.b0,
        b1=group.b1,
        branch=share.branch,
        branch_sd=share.branch_sd,
        leaf=share.leaf,
        leaf_sd=share.leaf_sd,
        largest_dbh=min(group.largest_dbh, share.largest_dbh),
        source=f"{group.source} + {share.source}",
        status=Status.ESTIMATE,
    )


def _group(row: Row) -> BiomassGroup:
    return BiomassGroup(
        int(row["group"]),
        row["name"],
        row["kind"],
        float(row["b0"]),
        float(row["b1"]),
        float(row["largest_dbh_cm"]) / CENTIMETRES,
        row["source"],
        Status(row["status"]),
    )


def _share(row: Row) -> CrownShare:
    below = row["dbh_below_cm"]
    return CrownShare(
        kind=row["kind"],
        trees=row["trees"],
        dbh_from=float(row["dbh_from_cm"]) / CENTIMETRES,
        dbh_below=float(below) / CENTIMETRES if below else math.inf,
        n=int(row["n"]),
        branch=float(row["branch_share"]),
        branch_sd=float(row["branch_share_sd"]),
        leaf=float(row["leaf_share"]),
        leaf_sd=float(row["leaf_share_sd"]),
        largest_dbh=float(row["largest_dbh_cm"]) / CENTIMETRES,
        source=row["source"],
        status=Status(row["status"]),
    )
