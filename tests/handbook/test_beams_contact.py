"""Beams with published answers, by the contact engine. Each row of data/beams.csv names its source.

The engine knows one-sided supports that push; beam tables know pins that also pull, so here supports hold both ways
except where a case says otherwise. Point loads are a nanometre of very heavy wood. Moments are taken from the engine's
own support forces by statics, as at a cut.
"""

from __future__ import annotations

import warnings
from dataclasses import dataclass, replace

import numpy as np
import pytest
from numpy.typing import NDArray
from tests.handbook.beam_cases import Beam, BeamCase, Hold, cases, greatest, line
from tests.references.contact_engine import NONE, push_up, solved, system_of, wood

from bolewright.core.base.vectors import UP
from bolewright.core.contact.actions import Actions
from bolewright.core.contact.state import State, movement_of
from bolewright.core.contact.supports import Contact
from bolewright.core.tree.assembly import Assembly

Floats = NDArray[np.float64]
CRUMB = 1e-9  # m, the length of wood a point load is put on
ALONG, ACROSS = np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])
MODULUS = 1.0
STIFF = 1e30  # N, no stretching


@dataclass(frozen=True)
class Answer:
    """A beam solved: ends of its runs, forces of its holds, couples of its fixed ones, sags and moments there."""

    x: Floats
    forces: Floats
    couples: Floats
    sag: Floats
    moment: Floats
    state: State


_SOLVED: dict[bytes, Answer] = {}


def solve(beam: Beam, two_way: bool = True) -> Answer:
    """The beam on its holds; two-way as in beam tables, or bearing only as wood on a roof. Many rows ask one beam."""
    arrays = (beam.stations, beam.EI, beam.weight_per_length)
    key = b"".join(a.tobytes() for a in arrays) + repr((beam.loads, beam.holds, two_way)).encode()
    if key not in _SOLVED:
        _SOLVED[key] = _solve(beam, two_way)
    return _SOLVED[key]


def _solve(beam: Beam, two_way: bool) -> Answer:
    x, EI, weight = _with_loads(_finer(beam))
    scale = (
        0.2 * x[-1] ** 3 / float(EI.max())
    )  # stiff enough to be wood, soft enough for a support that is 1e-9 m/N soft
    EI, weight = scale * EI, scale * weight
    points = np.column_stack([x, np.zeros((len(x), 2))])
    count = len(x) - 1
    assembly = wood(points[:-1], points[1:], np.arange(count) - 1, EI, np.full(count, STIFF), weight, MODULUS)
    low = -np.inf if two_way else 0.0
    holds = [push_up(_run(x, h.x), (h.x, 0.0, 0.0), h.compliance / scale, low=low) for h in beam.holds]
    fixed = [h for h in beam.holds if h.fixed]
    couples = [
        push_up(_run(x, h.x), (h.x, 0.0, 0.0), 0.0, low=-np.inf, force=NONE, couple=ACROSS, normal=NONE) for h in fixed
    ]
    # a beam table has no rolling
    roll = push_up(-1, NONE, 1.0 / float(EI.max()), low=-np.inf, force=NONE, couple=ALONG, normal=NONE)
    gaps = [h.gap for h in beam.holds] + [0.0] * (len(fixed) + 1)
    probes = Actions(
        segment=np.arange(count),
        fraction=np.ones(count),
        point=points[1:],
        force=np.tile(UP, (count, 1)),
        couple=np.zeros((count, 3)),
    )
    contacts = [*holds, *couples, roll]
    system = system_of(assembly, contacts, gaps, MODULUS, probes)
    state = solved(system)
    force = state.force[:, 0] / scale
    rows = slice(len(contacts), len(contacts) + count)
    moved = movement_of(system, state, rows)
    if beam.holds[0].fixed:  # a clamp gives by 1e-9 rad a N m here: sags are measured from the tangent at it
        moved = moved - system.rows(rows).T @ state.movement
    sag = -moved[:, 0]
    n = len(holds)
    moment = _moments(assembly, contacts, force, weight / scale)
    return Answer(x, force[:n], force[n : n + len(fixed)], np.concatenate([[np.nan], sag]), moment, state)


def _finer(beam: Beam) -> Beam:
    """Tapered runs cut to the engine's longest segment, half a metre."""
    runs = np.where(beam.EI[:, 0] == beam.EI[:, 1], 1, np.ceil(np.diff(beam.stations) / 0.5)).astype(int)
    share = np.concatenate([np.arange(n) / n for n in runs])
    step = np.repeat(1.0 / runs, runs)
    near, far = np.repeat(beam.EI[:, 0] ** 0.25, runs), np.repeat(beam.EI[:, 1] ** 0.25, runs)
    start, length = np.repeat(beam.stations[:-1], runs), np.repeat(np.diff(beam.stations), runs)
    ends = np.stack([near + (far - near) * share, near + (far - near) * (share + step)], axis=1)
    x = np.append(start + length * share, beam.stations[-1])
    return replace(beam, stations=x, EI=ends**4, weight_per_length=np.repeat(beam.weight_per_length, runs))


def _with_loads(beam: Beam) -> tuple[Floats, Floats, Floats]:
    """Stations, (n, 2) bending stiffness and weight of each run, with a crumb of wood before each point load."""
    x, EI = beam.stations.tolist(), [tuple(pair) for pair in beam.EI]
    weight = (beam.weight_per_length * np.diff(beam.stations)).tolist()
    for at, load in beam.loads:
        i = int(np.argmin(np.abs(np.array(x) - at)))
        x.insert(i, at - CRUMB)
        EI.insert(i, (EI[i - 1][1], EI[i - 1][1]))
        weight.insert(i, load)
    return np.array(x), np.array(EI), np.array(weight)


def _run(x: Floats, at: float) -> int:
    """The run that ends at x, -1 at the very start."""
    return int(np.argmin(np.abs(x - at))) - 1


def _moments(assembly: Assembly, contacts: list[Contact], force: Floats, weight: Floats) -> Floats:
    """(n + 1,) bending moment at the stations, + stretches the underside: statics of everything to the right."""
    x = np.append(assembly.start[:, 0], assembly.end[-1, 0])
    middle = 0.5 * (assembly.start + assembly.end)[:, 0]
    out = np.zeros(len(x))
    for i, section in enumerate(x):
        beyond = middle > section
        out[i] = -np.sum(weight[beyond] * (middle[beyond] - section))
        for c, f in zip(contacts, force, strict=True):
            if c.point[0] > section + 1e-12:
                out[i] += f * (c.force[2] * (c.point[0] - section) - c.couple[1])
            elif c.point[0] > section - 1e-12 and section == x[-1]:
                out[i] += -f * c.couple[1]
    return out


def asked(case: BeamCase, answer: Answer) -> float:
    """The number the case asks for."""
    question = case.question
    if question.kind == "force":
        return question.sign * float(answer.forces[question.which])
    if question.kind == "sag":
        return greatest(answer.x[1:], answer.sag[1:], question)
    return greatest(answer.x, answer.moment, question)


@pytest.mark.parametrize("case", list(cases()), ids=lambda case: case.name)
def test_beam(case: BeamCase) -> None:
    """The published value, within the tolerance its printed digits allow; rows marked REGRESSION only warn."""
    answer = solve(case.beam)
    assert answer.state.held.all()
    assert answer.state.residual.max() < 1e-9
    got = asked(case, answer)
    near = got == pytest.approx(case.expected, rel=case.rel_tol, abs=1e-9)
    if case.status == "REGRESSION" and not near:
        warnings.warn(f"{case.name}: {got} where {case.source} has {case.expected}", stacklevel=1)
    else:
        assert near, f"{got} where {case.source} has {case.expected}"


def test_two_equal_spans_share_3_10_3() -> None:
    """A log on three equal posts: 3/16, 5/8 and 3/16 of the weight (AISC Manual, Table 3-23, two equal spans), not a
    third each, and not what two separate logs would give (1/4, 1/2, 1/4)."""
    log = line(2.0, [Hold(0.0), Hold(1.0), Hold(2.0)], spread=[(0.0, 2.0, 1.0)])
    weight = 2.0
    assert solve(log, two_way=False).forces / weight == pytest.approx([3 / 16, 5 / 8, 3 / 16], rel=1e-6)


@pytest.mark.parametrize("share", [1.01, 0.9, 0.5, 0.1, 0.0])
def test_a_gap_closes_when_the_sag_reaches_it(share: float) -> None:
    """The middle post clear by a share of the free sag 5wL4/384EI: nothing arrives there above it, and below it
    R L3/48EI = free sag - gap (AISC Manual, Table 3-23, simple beam, evenly and midspan loaded), L = 2, EI = w = 1."""
    free = 5 * 2.0**4 / 384
    beam = line(2.0, [Hold(0.0), Hold(1.0, gap=share * free), Hold(2.0)], spread=[(0.0, 2.0, 1.0)])
    middle = max(0.0, (1.0 - share) * free * 48 / 2.0**3)
    answer = solve(beam, two_way=False)
    assert answer.forces == pytest.approx([1 - middle / 2, middle, 1 - middle / 2], rel=1e-6, abs=1e-7)


def test_uplift_of_a_table_becomes_lift_off() -> None:
    """Two spans, one loaded: the table has -1/16 at the far end. A roof cannot pull: the end lifts, and statics of
    the rest gives w/2 each. The end then rises by the slope wL3/24EI of the simple beam times L (Table 3-23)."""
    beam = line(2.0, [Hold(0.0), Hold(1.0), Hold(2.0)], spread=[(0.0, 1.0, 1.0)])
    answer = solve(beam, two_way=False)
    assert answer.forces == pytest.approx([0.5, 0.5, 0.0], abs=1e-7)
    assert answer.sag[-1] == pytest.approx(-1 / 24, rel=1e-5)


def test_overhang_beyond_its_supports_is_not_held() -> None:
    """All the weight beyond the last support and nothing to hold the far end down: no equilibrium, and no force."""
    beam = line(1.4, [Hold(0.0), Hold(1.0)], spread=[(1.0, 1.4, 1.0)])
    assert not solve(beam, two_way=False).state.held.any()


def test_a_counterweight_holds_an_overhang_just_so_far() -> None:
    """Statics: log of length 1 + a on posts at 0 and 1 stays down while a < 1, the far post carrying w(1 - a2)/2."""
    for a, held in ((0.5, True), (0.999, True), (1.001, False)):
        answer = solve(line(1.0 + a, [Hold(0.0), Hold(1.0)], spread=[(0.0, 1.0 + a, 1.0)]), two_way=False)
        assert answer.state.held.all() == held
        if held:
            assert answer.forces[0] == pytest.approx((1 - a**2) / 2, rel=1e-6)
