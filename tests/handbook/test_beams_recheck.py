"""Beams with published answers, by the second formulation. Each row of data/beams.csv names its source."""

from __future__ import annotations

import numpy as np
import pytest
from tests.handbook.beam_cases import Beam, BeamCase, Hold, cases, greatest, line

from bolewright.core.recheck import HELD, NOT_HELD, PointLoads, RecheckResult, Segments, Supports, recheck_state

UP, ALONG_Y = (0.0, 0.0, 1.0), (0.0, 1.0, 0.0)


def solve(beam: Beam, two_way: bool = True) -> RecheckResult:
    """The beam on its holds; two-way as in beam tables, or bearing only as wood on a roof."""
    x = beam.stations
    points = np.column_stack([x, np.zeros((len(x), 2))])
    segments = Segments.of(
        points[:-1],
        points[1:],
        np.arange(len(x) - 1) - 1,
        beam.EI,
        beam.EI,
        1e3 * beam.EI,
        beam.weight_per_length * np.diff(x),
    )
    fixed = [hold for hold in beam.holds if hold.fixed]
    places = [h.x for h in beam.holds] + [h.x for h in fixed]
    supports = Supports.of(
        [segment_at(beam, place) for place in places],
        [(place, 0.0, 0.0) for place in places],
        [UP] * len(beam.holds) + [(0.0, 0.0, 0.0)] * len(fixed),
        [h.compliance for h in beam.holds] + [0.0] * len(fixed),
        gap=[h.gap for h in beam.holds] + [0.0] * len(fixed),
        lower=-np.inf if two_way else 0.0,
        couple=[(0.0, 0.0, 0.0)] * len(beam.holds) + [ALONG_Y] * len(fixed),
    )
    loads = PointLoads.of(
        [segment_at(beam, at) for at, _ in beam.loads],
        [(at, 0.0, 0.0) for at, _ in beam.loads],
        [(0.0, 0.0, -size) for _, size in beam.loads],
    )
    return recheck_state(segments, supports, loads=loads)


def segment_at(beam: Beam, x: float) -> int:
    """The run that holds x, the one before it at a joint."""
    return max(int(np.searchsorted(beam.stations, x - 1e-9)) - 1, 0)


def answer(beam: Beam, result: RecheckResult, case: BeamCase) -> float:
    """The number the case asks for."""
    question = case.question
    if question.kind == "force":
        return question.sign * float(result.forces[question.which])
    if question.kind == "sag":
        return greatest(beam.stations[1:], -result.displacements[:, 2], question)
    if question.at == (beam.stations[-1],) * 2:  # at a held far end: the couple of its support
        return -question.sign * float(result.forces[-1])
    return greatest(beam.stations[:-1], -result.carried[:, 4], question)


@pytest.mark.parametrize("case", list(cases()), ids=lambda case: case.name)
def test_beam(case: BeamCase) -> None:
    """The published value, within the tolerance its printed digits allow."""
    result = solve(case.beam)
    assert result.status == HELD
    assert result.residual < 1e-9
    assert answer(case.beam, result, case) == pytest.approx(case.expected, rel=case.rel_tol, abs=1e-9), case.source


def test_uplift_of_a_table_becomes_lift_off() -> None:
    """B18 and B08 on bearings that cannot pull: the far end lifts, and statics of what stays gives the forces.

    Two spans, one loaded: the table has -1/16 at the far end; without it the beam hangs over the middle, w/2 on each.
    """
    two = line(2.0, [Hold(0.0), Hold(1.0), Hold(2.0)], spread=[(0.0, 1.0, 1.0)])
    assert solve(two, two_way=False).forces == pytest.approx([0.5, 0.5, 0.0], abs=1e-8)
    hanging = line(1.4, [Hold(0.0), Hold(1.0)], spread=[(1.0, 1.4, 1.0)])
    assert solve(hanging, two_way=False).status == NOT_HELD


def test_a_gap_closes_when_the_sag_reaches_it() -> None:
    """5wL4/384EI in the middle: with a wider gap nothing arrives there; at half of it, by superposition, R follows.

    R L3/48EI = 5wL4/384EI - gap with L = 2 (Table 3-23, simple beam).
    """
    free = 5 * 2.0**4 / 384
    for gap in (1.01 * free, 0.5 * free, 0.0):
        beam = line(2.0, [Hold(0.0), Hold(1.0, gap=gap), Hold(2.0)], spread=[(0.0, 2.0, 1.0)])
        middle = max(0.0, (free - gap) * 48 / 2.0**3)
        assert solve(beam, two_way=False).forces == pytest.approx([1 - middle / 2, middle, 1 - middle / 2], abs=1e-7)
