"""Beams with published answers, by the second formulation. Each row of data/beams.csv names its source."""

from __future__ import annotations

import numpy as np
import pytest

from bolewright.core.recheck import HELD, NOT_HELD, PointLoads, RecheckResult, Segments, Supports, recheck_state
from tests.handbook.beam_cases import Beam, BeamCase, Hold, cases, greatest, line

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
