"""After a failure: gust against gust, and what holes would have shown."""

from __future__ import annotations

import pytest

from bolewright.core.base.range import Range
from bolewright.core.standing.lookback import compare_gusts, would_show

NEEDED = Range(20.0, 26.0, 34.0)
ONE_SIDED = ((0.0, 0.25), (3.0, 0.04), (6.0, 0.25), (9.0, 0.28))


@pytest.mark.parametrize(
    ("recorded", "answer"),
    [(40.0, "explained by the gust"), (25.0, "within the spread"), (12.0, "failed below the gust computed"),
     (None, "not enough known")],
)  # fmt: skip
def test_gust_against_gust(recorded: float | None, answer: str) -> None:
    """By the ends of the range."""
    assert compare_gusts(NEEDED, recorded) == answer


def test_a_hole_on_the_wrong_side_shows_little() -> None:
    """A stem 60 cm thick, 4 cm of shell on one side: found at 3 o'clock, missed at 9."""
    found, missed = would_show(0.6, ONE_SIDED, (3.0,)), would_show(0.6, ONE_SIDED, (9.0,))
    assert found.over_shell_rule
    assert not missed.over_shell_rule
    assert found.loss > 0.4 > 0.05 > missed.loss


def test_all_holes_show_the_section() -> None:
    """Four holes at the four readings: the loss of the whole section."""
    four = would_show(0.6, ONE_SIDED, (0.0, 3.0, 6.0, 9.0))
    assert four.depths == pytest.approx((0.25, 0.04, 0.25, 0.28))
    assert 0.0 < four.loss < would_show(0.6, ONE_SIDED, (3.0,)).loss


def test_hole_into_an_open_cavity() -> None:
    """No wood met at all is a loss of everything as far as that hole tells."""
    assert would_show(0.6, ((0.0, 0.0), (6.0, 0.2)), (0.0,)).loss == pytest.approx(1.0)


def test_hole_where_the_stem_lay_open() -> None:
    """An opening of 18 cm at 3 o'clock, 17 degrees either side: a hole there meets no wood, one at 12 the wall."""
    there, beside = (would_show(0.6, ONE_SIDED, (hole,), (3.0, 0.18)) for hole in (3.0, 0.0))
    assert there.depths == (0.0,)
    assert there.loss == pytest.approx(1.0)
    assert beside.depths == pytest.approx((0.25,))
