"""The props the crew will set whatever the plan says: where they stand, and the tree on them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from bolewright.core.base.errors import BadInput
from bolewright.core.contact.gaps import set_together
from bolewright.core.contact.state import solve_states
from bolewright.job.model import Job
from bolewright.planning.holding.body import Body
from bolewright.planning.holding.model import Model, model_of
from bolewright.planning.holding.posts import PropPlace, post_under
from bolewright.planning.order.tried import PropUse, rows_of


def own_props(job: Job, body: Body) -> list[tuple[PropPlace, float]]:
    """The props the crew will set, not those that stand already, with the force each is jacked to [N].

    Raises BadInput where there is no room for one.
    """
    standing = {step.id for step in job.done if step.what == "prop"}
    found = []
    for n, prop in enumerate(job.prop):
        if prop.id in standing:
            continue
        place = post_under(body, prop.id, prop.at.likely)
        if place is None:
            raise BadInput("There is no room on the ground for a prop under the stem there.", f"prop[{n}].at")
        force = prop.jacked.likely if prop.jacked is not None else 0.0
        left, right = (replace(side, jacked=0.5 * force) for side in place.sides)
        found.append((replace(place, sides=(left, right)), force))
    return found


def with_own_props(job: Job, body: Body) -> tuple[Model, tuple[PropUse, ...]] | None:
    """The job with the crew's own props as further contacts, brought to their forces together; None when they set none.

    Raises BadInput where they would lift the tree off what it rests on.
    """
    own = own_props(job, body)
    if not own:
        return None
    extra = tuple(side for place, _ in own for side in place.sides)
    model = model_of(job, extra, body)
    first = next(i for i, c in enumerate(model.contacts) if c is extra[0])
    uses = tuple(
        PropUse(place, (first + 2 * i, first + 2 * i + 1), force, None) for i, (place, force) in enumerate(own)
    )
    system, held = set_together(model.system, model.now, rows_of(uses))
    if model.now.held.mean() >= job.limits.share.likely > held.mean():
        raise BadInput("With that much the tree would be lifted off what it rests on.", "prop[0].jacked")
    return replace(model, system=system), uses


def with_props_set(job: Job) -> Model:
    """The job as it stands once the crew's own props are set, before any further cut."""
    plain = model_of(job)
    own = with_own_props(job, plain.body)
    if own is None:
        return plain
    model, _ = own
    everything = np.ones(model.system.count, dtype=bool)
    now = solve_states(model.system, [model.left], [everything])[0]
    return replace(model, states=(*model.states, now))
