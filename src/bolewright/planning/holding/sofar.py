"""From the tree as found through the steps that are done to the tree as it stands now, sample by sample."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.contact.gaps import set_together, settle_gaps
from bolewright.core.contact.state import Bools, State, System, solve_states
from bolewright.core.contact.supports import Contact
from bolewright.core.tree.pieces import subtree
from bolewright.core.tree.spec import STEM
from bolewright.job.model import Done, Job
from bolewright.planning.both import both_lengths
from bolewright.planning.holding.body import Body
from bolewright.planning.holding.posts import post_under

CLOSE = 0.03  # m: a step done and a cut of the tree are the same when they are this close


@dataclass(frozen=True)
class SoFar:
    """What was done, as the engine takes it. props: the two contacts of each prop set; takes: the pieces (P,) that left
    with each cut; both by step number."""

    props: dict[int, tuple[Contact, Contact]]
    takes: dict[int, Bools]

    def contacts(self) -> list[Contact]:
        """The contacts of every prop set, in order."""
        return [c for pair in self.props.values() for c in pair]


def so_far(job: Job, body: Body) -> SoFar:
    """The steps of the job. Raises BadInput for a step that cannot have been: no such cut, nothing left there."""
    on = np.ones(len(body.pieces), dtype=bool)
    props: dict[int, tuple[Contact, Contact]] = {}
    takes: dict[int, Bools] = {}
    for n, step in enumerate(job.done):
        if step.what == "prop":
            props[n] = _prop(body, step, n, on)
        else:
            takes[n] = _takes(body, step, n, on)
            on = on & ~takes[n]
    return SoFar(props, takes)


def _prop(body: Body, step: Done, n: int, on: Bools) -> tuple[Contact, Contact]:
    at = step.at.likely
    under = next(
        (i for i, p in enumerate(body.pieces) if p.member == STEM and p.start - CLOSE <= at <= p.end + CLOSE), None
    )
    place = post_under(body, step.id or f"prop {n + 1}", at)
    if place is None or under is None or not on[under]:
        said = "There is no room on the ground for a prop under the stem there, or no stem left."
        raise BadInput(said, f"done[{n}].at")
    half = 0.5 * step.jacked.likely if step.jacked is not None else 0.0
    limit = 0.5 * step.limit.likely if step.limit is not None else None
    left, right = (replace(c, jacked=half, limit=limit) for c in place.sides)
    return (left, right)


def _takes(body: Body, step: Done, n: int, on: Bools) -> Bools:
    # a limb is cut anywhere on its collar
    grows = 0.0 if step.member == STEM else body.assembly.stub_of(step.member)
    pieces = [(i, p) for i, p in enumerate(body.pieces) if p.member == step.member]
    starts = [(i, p.start) for i, p in pieces if not (p.member == STEM and p.start == 0.0)]
    if starts and step.at.likely <= grows + CLOSE:
        starts = [(starts[0][0], step.at.likely)]
    near = min(starts, key=lambda s: abs(s[1] - step.at.likely), default=None)
    if near is None or abs(near[1] - step.at.likely) > CLOSE:
        cuts = ", ".join(both_lengths(s) for _, s in starts) or "none"
        raise BadInput(f"There is no cut of the tree there. The cuts of {step.member} are at: {cuts}.", f"done[{n}].at")
    beyond = subtree(body.parents)[near[0]]
    gone = on & (beyond if step.off == "tip side" else ~beyond)
    if not gone.any():
        raise BadInput("Nothing is left on that side of the cut to come off.", f"done[{n}].off")
    return np.asarray(gone)


def walked(system: System, found: State, done: SoFar, steps: int, tried: Bools) -> tuple[System, tuple[State, ...]]:
    """The system with every gap set, and the states: as found, then after each of the steps.

    tried (n,): contacts that are only tried (props to come), settled against the last state, each by itself. A prop is
    settled against the state it was set in, everything else against the tree as found. Props set one right after the
    other are taken to be brought to their forces together, as a plan has it.
    """
    rows = {n: _rows(system, pair) for n, pair in done.props.items()}
    later = tried.copy()
    for index in rows.values():
        later[index] = True
    system = settle_gaps(system, found, ~later)
    here, keep, states = ~later, found.keep.copy(), [found]
    placed, against = np.zeros_like(here), found
    for n in range(steps):
        if n in rows:
            placed[rows[n]] = True
            system, _ = set_together(system, against, np.flatnonzero(placed))
        else:
            keep = keep & ~done.takes[n]
        states.append(solve_states(system, [keep], [here | placed])[0])
        if n not in rows:
            here, placed, against = here | placed, np.zeros_like(here), states[-1]
    if tried.any():
        system = settle_gaps(system, states[-1], tried)
    return system, tuple(states)


def _rows(system: System, pair: tuple[Contact, Contact]) -> NDArray[np.int64]:
    return np.array([i for i, c in enumerate(system.contacts) if any(c is own for own in pair)], dtype=np.int64)
