"""Frictionless 12-support solves over samples: the batch kernel beside a QP solver in a loop and a frame program.

All three get the same tree (a random one of the reference tests), the same supports and the same samples, in one run,
and their forces are compared, so that nobody is quick by being wrong. What is favourable to the others is left to
them: the QP loop gets its matrices ready made, the frame program is told which supports carry and keeps its model
between samples, and neither has to check anything.

    python -m benchmarks.contacts
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import daqp
import numpy as np
from benchmarks.rig import Row, best_of, seconds, show
from numpy.typing import NDArray
from tests.references.contact_engine import MODULUS, case_system, push_up, solved, system_of, wood
from tests.references.pynite_frame import pynite_forces
from tests.references.random_trees import Case, random_case, with_feet

from bolewright.core.contact.kernel import Solution, solve_contacts
from bolewright.core.contact.state import State, System, solve_states
from bolewright.core.contact.supports import Contact
from bolewright.core.contact.trial import Problem

SUPPORTS = 12
SAMPLES = 8192
LOOPED = 1024  # of them go through the QP loop
FRAMED = 12  # of them go through the frame program
MISFIT = 0.004  # m, how far each support has crushed or settled


@dataclass(frozen=True)
class Scene:
    """One tree on twelve supports with its samples, and everything a solver could want ready made."""

    case: Case
    system: System
    problem: Problem


def tree_of(supports: int) -> Case:
    """The first random tree with that many supports, on short feet that the frame program can take."""
    seed = next(s for s in range(10_000) if len(random_case(s).support_segment) == supports)
    case = with_feet(random_case(seed))
    return replace(case, GJ=case.EI / 8.0)


def scene() -> Scene:
    """Samples of density, wood stiffness, give and misfit of every support."""
    case = tree_of(SUPPORTS)
    one = case_system(case)
    rng = np.random.default_rng(11)
    samples = replace(
        one.samples,
        mass=np.tile(rng.lognormal(0.0, 0.08, SAMPLES), (5, 1)),
        flex=rng.lognormal(0.0, 0.2, SAMPLES),
        give=one.samples.give * rng.lognormal(0.0, 0.5, (SUPPORTS, SAMPLES)),
        misfit=rng.normal(0.0, MISFIT, (SUPPORTS, SAMPLES)),
    )
    gap = one.gap + samples.misfit
    system = replace(one, samples=samples, gap=gap)
    return Scene(case, system, problem_of(system))


def problem_of(system: System) -> Problem:
    """The batch of contact problems of a system with everything on."""
    n, every = system.count, np.ones(1, dtype=bool)
    flex = system.integrals.flex[every].sum(axis=0)[:n, :n]
    q = flex[:, :, None] * system.samples.flex
    q[np.arange(n), np.arange(n)] += system.samples.give
    sag = np.einsum("gn,gb->nb", system.integrals.sag[0, 0][:, :n], system.samples.mass) * system.samples.flex
    weight = system.integrals.weight[0][:, [2, 3, 4]].T @ system.samples.mass
    weight[1:] /= system.scale
    low = np.zeros((n, len(system.samples)))
    return Problem(q, system.rows(slice(0, n)), weight, sag + system.gap, low, np.full_like(low, np.inf))


def qp_loop(p: Problem, count: int) -> NDArray[np.float64]:
    """Forces (n, count) by DAQP, one sample after the other."""
    n = p.low.shape[0]
    rows, sense = np.ascontiguousarray(p.columns), np.array([0] * n + [5] * 3, dtype=np.int32)
    size, stiff = p.size, np.einsum("iib->b", p.flexibility)
    high = np.minimum(np.concatenate([p.high, -p.weight]) / size, 1e30)
    low = np.concatenate([p.low, -p.weight]) / size
    energy = np.ascontiguousarray((p.flexibility / stiff).transpose(2, 0, 1))
    slope = np.ascontiguousarray((p.offset / (stiff * size)).T)
    above, below = np.ascontiguousarray(high.T), np.ascontiguousarray(low.T)
    out = np.empty((n, count))
    for b in range(count):
        x, _, flag, _ = daqp.solve(energy[b], slope[b], rows, above[b], below[b], sense)
        assert flag > 0
        out[:, b] = x
    return out * size[:count]


def qp_loop_from_samples(system: System, count: int) -> NDArray[np.float64]:
    """Forces (n, count) by DAQP, each problem made from its sample and solved, as a plain loop would."""
    n, table, samples = system.count, system.integrals, system.samples
    flex, sag = table.flex[0][:n, :n], table.sag[0, 0][:, :n]
    rows = np.ascontiguousarray(system.rows(slice(0, n)))
    weights = table.weight[0][:, [2, 3, 4]]
    sense = np.array([0] * n + [5] * 3, dtype=np.int32)
    out = np.empty((n, count))
    for b in range(count):
        q = flex * samples.flex[b]
        q[np.arange(n), np.arange(n)] += samples.give[:, b]
        weight = samples.mass[:, b] @ weights
        weight[1:] /= system.scale
        offset = (samples.mass[:, b] @ sag) * samples.flex[b] + system.gap[:, b]
        size, stiff = np.abs(weight).max(), np.trace(q)
        high = np.concatenate([np.full(n, 1e30), -weight / size])
        low = np.concatenate([np.zeros(n), -weight / size])
        x, _, flag, _ = daqp.solve(q / stiff, offset / (stiff * size), rows, high, low, sense)
        assert flag > 0
        out[:, b] = x * size
    return out


def framed(case: Case, system: System, answer: Solution, b: int) -> NDArray[np.float64]:
    """Forces of one sample by PyNite, told which supports carry."""
    carry = answer.force[:, b] > 0.0
    sample = replace(
        case,
        EI=case.EI / system.samples.flex[b],
        GJ=case.GJ / system.samples.flex[b],
        EA=case.EA / system.samples.flex[b],
        weight=case.weight * system.samples.mass[0, b],
        stiffness=1.0 / system.samples.give[:, b],
        gap=system.gap[:, b],
    )
    out = np.zeros(len(carry))
    out[carry] = pynite_forces(*sample.only(carry).frame_arguments())
    return out


def from_nothing(case: Case) -> State:
    """One solve by the engine, from bare arrays of wood and supports."""
    assembly = wood(case.start, case.end, case.parent, case.EI, case.EA, case.weight, MODULUS)
    contacts: list[Contact] = [
        push_up(int(s), p, 1.0 / k)
        for s, p, k in zip(case.support_segment, case.support_point, case.stiffness, strict=True)
    ]
    return solved(system_of(assembly, contacts, case.gap, MODULUS))


def rows() -> list[Row]:
    """The measured table."""
    s = scene()
    p = s.problem
    one_core = best_of(3, lambda: solve_contacts(p)) / SAMPLES
    both_cores = best_of(3, lambda: solve_contacts(p, threads=2)) / SAMPLES
    answer = solve_contacts(p, threads=2)
    looped = best_of(2, lambda: qp_loop(p, LOOPED)) / LOOPED
    theirs = qp_loop(p, LOOPED)
    apart = np.abs(theirs - answer.force[:, :LOOPED]).max() / p.size.max()
    assert answer.held.all()
    assert apart < 1e-6, apart
    frames = [framed(s.case, s.system, answer, b) for b in range(FRAMED)]
    off = max(np.abs(f - answer.force[:, b]).max() / p.size[b] for b, f in enumerate(frames))
    assert off < 1e-6, off
    frame = seconds(lambda: [framed(s.case, s.system, answer, b) for b in range(FRAMED)]) / FRAMED
    carry = solved(case_system(s.case)).force[:, 0] > 0.0
    alone = best_of(3, lambda: from_nothing(s.case))
    frame_alone = best_of(2, lambda: pynite_forces(*s.case.only(carry).frame_arguments()))
    every = [np.ones(1, dtype=bool)], [np.ones(SUPPORTS, dtype=bool)]
    states = best_of(3, lambda: solve_states(s.system, *every)) / SAMPLES
    best = min(one_core, both_cores)
    from_samples = best_of(2, lambda: qp_loop_from_samples(s.system, LOOPED)) / LOOPED
    again = np.abs(qp_loop_from_samples(s.system, LOOPED) - answer.force[:, :LOOPED]).max() / p.size.max()
    assert again < 1e-6, again
    return [
        Row("12-support solves, batch kernel, 2 threads", 1e5, 1.0 / both_cores, "per second"),
        Row("the same in 1 thread", None, 1.0 / one_core, "per second"),
        Row("the same with its matrices made from samples", None, 1.0 / states, "per second"),
        Row("a QP solver in a loop (DAQP), matrices made from samples", None, 1.0 / from_samples, "per second"),
        Row("the same loop with its matrices ready made", None, 1.0 / looped, "per second"),
        Row("kernel over the QP loop, both from samples", 5.0, from_samples / states, "times"),
        Row("kernel over the QP loop, both with matrices ready made", 5.0, looped / best, "times"),
        Row("a frame program on repeated samples (PyNite)", None, 1.0 / frame, "per second"),
        Row("kernel over the frame program", 1000.0, frame / best, "times"),
        Row("one solve from nothing, engine", None, 1000.0 * alone, "ms", "less"),
        Row("one solve from nothing, frame program", None, 1000.0 * frame_alone, "ms", "less"),
        Row("engine over frame program, from nothing", 1.0, frame_alone / alone, "times"),
        Row("largest difference to the QP loop, of the weight", 1e-6, float(apart), "", "less"),
        Row("largest difference to the frame program", 1e-6, float(off), "", "less"),
    ]


if __name__ == "__main__":
    show("Contact solves", rows())
