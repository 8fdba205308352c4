"""What is not known, drawn: ranges covered evenly, ends where the ranges say, likely case first."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm
from tests.references.contact_engine import push_up

from bolewright.core.base.range import Range
from bolewright.core.contact.samples import Samples, Spread, draw
from bolewright.core.contact.supports import SMALLEST_GIVE, Contact

EXACT = Range.exact(1.0)
SURE = Spread(EXACT, EXACT, EXACT, EXACT, EXACT, EXACT)
COUNT = 2000


def drawn(spread: Spread = SURE, contacts: list[Contact] | None = None, count: int = COUNT, seed: int = 7) -> Samples:
    return draw(spread, contacts or [], count, np.random.default_rng(seed))


def percentiles(values: np.ndarray) -> list[float]:
    return np.percentile(values, [5.0, 50.0, 95.0]).tolist()


@pytest.mark.parametrize("band", [Range(0.8, 1.0, 1.3), Range(0.95, 1.0, 1.05), Range(0.3, 1.0, 1.1)])
def test_the_ends_of_the_range_are_its_5_and_95_percent(band: Range) -> None:
    """Wood factor of a lopsided range.

    Tolerance: a Latin hypercube of 2000 puts a quantile within two strata of 1/2000; at 5 % the normal density is
    0.103, so within 0.0097 standard deviations, of which log(range)/1.645 is one: 0.6 % of the logarithm.
    """
    mass = drawn(replace(SURE, wood=band)).mass[0]
    rel = 0.006 * np.log(max(band.high, 1.0 / band.low))
    assert percentiles(mass) == pytest.approx([band.low, band.likely, band.high], rel=rel)


def test_every_twentieth_of_the_range_gets_its_twentieth_of_the_samples() -> None:
    """Stratified: of 2000 samples 100 fall between any neighbouring 5 % points of the lognormal, give or take the
    likely one that is put first."""
    mass = drawn(replace(SURE, foliage=Range(0.5, 1.0, 2.0))).mass[3]
    sigma = np.log(2.0) / norm.ppf(0.95)
    shares = norm.cdf(np.log(mass) / sigma)
    counts = np.histogram(shares, bins=20, range=(0.0, 1.0))[0]
    assert np.all(np.abs(counts - 100) <= 1)


def test_the_first_sample_is_the_likely_case() -> None:
    wide = Spread(*(Range(0.5, 1.0, 2.0) for _ in range(6)))
    samples = drawn(wide, [push_up(0, [0, 0, 0], 2e-6, misfit=0.01)])
    assert samples.mass[:, 0] == pytest.approx(np.ones(5))
    assert samples.flex[0] == pytest.approx(1.0)
    assert samples.give[0, 0] == pytest.approx(2e-6)
    assert samples.misfit[0, 0] == 0.0


def test_size_is_squared_in_mass_and_to_the_fourth_in_stiffness() -> None:
    """A diameter 10 % up: 21 % more wood, bending stiffness 46 % up (d2 and d4); small wood by itself."""
    samples = drawn(replace(SURE, size=Range(1 / 1.1, 1.0, 1.1)))
    size = np.sqrt(samples.mass[0])
    assert percentiles(size) == pytest.approx([1 / 1.1, 1.0, 1.1], rel=0.003)
    assert samples.mass[1] == pytest.approx(samples.mass[0])
    assert samples.flex == pytest.approx(size**-4.0)
    assert samples.mass[2:] == pytest.approx(np.ones((3, COUNT)))


def test_stiffer_wood_bends_less() -> None:
    samples = drawn(replace(SURE, stiffness=Range(0.7, 1.0, 1.4)))
    assert percentiles(samples.flex) == pytest.approx([1 / 1.4, 1.0, 1 / 0.7], rel=0.003)
    assert samples.mass == pytest.approx(np.ones((5, COUNT)))


def test_supports_give_lognormally_and_misfit_normally() -> None:
    """Standard deviation of log give and of misfit as entered (to 2 %), independent of each other."""
    contacts = [
        push_up(0, [0, 0, 0], 1e-5, give_spread=0.6, misfit=0.008),
        push_up(0, [1, 0, 0], 1e-5, give_spread=0.0, misfit=0.008, touching=False),
    ]
    samples = drawn(contacts=contacts)
    assert np.std(np.log(samples.give[0])) == pytest.approx(0.6, rel=0.02)
    assert np.median(samples.give[0]) == pytest.approx(1e-5, rel=0.003)
    assert samples.give[1] == pytest.approx(np.full(COUNT, 1e-5))
    assert np.std(samples.misfit[0]) == pytest.approx(0.008, rel=0.02)
    assert not samples.misfit[1].any()  # not touching: its gap was measured
    assert abs(np.corrcoef(np.log(samples.give[0]), samples.misfit[0])[0, 1]) < 0.08


def test_even_rigid_gives_a_little() -> None:
    assert drawn(contacts=[push_up(0, [0, 0, 0], 0.0)]).give.min() == SMALLEST_GIVE


def test_unknowns_do_not_follow_each_other() -> None:
    """Wood, small wood, foliage and soil are drawn apart: correlation of 2000 samples under 0.08 (3.5 sigma)."""
    wide = Spread(*(Range(0.5, 1.0, 2.0) for _ in range(4)), EXACT, EXACT)
    logs = np.log(drawn(wide).mass[[0, 2, 3, 4]])
    off = np.corrcoef(logs) - np.eye(4)
    assert np.abs(off).max() < 0.08


def test_the_same_seed_the_same_samples() -> None:
    contacts = [push_up(0, [0, 0, 0], 1e-5)]
    wide = replace(SURE, wood=Range(0.5, 1.0, 2.0))
    first, second, other = (drawn(wide, contacts, 64, seed) for seed in (1, 1, 2))
    assert np.array_equal(first.mass, second.mass)
    assert np.array_equal(first.give, second.give)
    assert not np.array_equal(first.mass, other.mass)


def test_taking_some_keeps_what_belongs_together() -> None:
    samples = drawn(replace(SURE, wood=Range(0.5, 1.0, 2.0)), [push_up(0, [0, 0, 0], 1e-5, misfit=0.01)])
    pick = np.array([5, 900, 5])
    some = samples.take(pick)
    assert len(some) == 3
    assert np.array_equal(some.mass, samples.mass[:, pick])
    assert np.array_equal(some.misfit, samples.misfit[:, pick])
    assert np.array_equal(some.flex, samples.flex[pick])
    assert np.array_equal(some.give, samples.give[:, pick])
