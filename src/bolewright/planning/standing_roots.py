"""Cross-check of the roots from the weight of the root plate, where its size could be told."""

from __future__ import annotations

from bolewright.core.standing.anchorage import plate_capacity
from bolewright.planning import standing_defaults as defaults
from bolewright.planning.standing_tree import Stood


def plate_check(tree: Stood) -> float | None:
    """Turning moment by the plate-weight model [N m], None when the plate's size is not given."""
    standing = tree.standing
    if standing.plate_diameter is None or standing.plate_depth is None:
        return None
    return plate_capacity(standing.plate_diameter.likely, standing.plate_depth.likely, defaults.PLATE_DENSITY)
