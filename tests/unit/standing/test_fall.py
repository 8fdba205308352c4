"""Fall circle and sector."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.base.errors import BadInput
from bolewright.core.standing.fall import fall_reach, reaches


@pytest.mark.parametrize(
    ("distance", "degrees", "word"),
    [
        (3.0, 90.0, "under the crown"),
        (15.0, 30.0, "in the sector"),
        (15.0, -44.0, "in the sector"),
        (15.0, 90.0, "in the circle"),
        (25.0, 0.0, "in shatter reach"),
        (31.0, 0.0, "out of reach"),
    ],
)
def test_where_a_target_lies(distance: float, degrees: float, word: str) -> None:
    """A 20 m tree with a 4 m crown, likely to fall forward."""
    assert reaches(fall_reach(20.0, 4.0, (0.0,)), distance, np.radians(degrees)) == word


def test_sectors_wrap_round() -> None:
    """350 degrees is near 10 degrees."""
    reach = fall_reach(20.0, 4.0, (np.radians(350.0),))
    assert reaches(reach, 10.0, np.radians(10.0)) == "in the sector"


def test_a_top_reaches_no_further_than_it_is_long() -> None:
    """Broken at 12 m of 20 m."""
    assert fall_reach(20.0, 4.0, (), 12.0).radius == pytest.approx(8.0)
    with pytest.raises(BadInput, match="below the top"):
        fall_reach(20.0, 4.0, (), 20.0)
