"""What the crew wants of the order: how far it goes, wood that stays on, and wood that waits."""

from __future__ import annotations

from dataclasses import replace

from bolewright.core.base.errors import BadInput
from bolewright.core.cutting.judge import mask_to_bits
from bolewright.planning.holding.body import Body
from bolewright.planning.holding.model import Model
from bolewright.planning.order.facts import over_roofs

CLOSE = 1e-6  # m
CLEAR = "the building is clear"


def until_clear(model: Model) -> Model | None:
    """The same with the work done as soon as no wood is on or over the building, where a job that does not say how far
    the order goes leaves that open; None where it does not, or none is there now."""
    if model.job.limits.until is not None or not over_building(model):
        return None
    limits = model.job.limits.model_copy(update={"until": CLEAR})
    return replace(model, job=model.job.model_copy(update={"limits": limits}))


def over_building(model: Model) -> int:
    """Pieces still on that bear on a building or lie over one, as bits."""
    near = over_roofs(model.body)
    own = model.system.integrals.action_piece
    near[[int(own[i]) for i, c in enumerate(model.contacts) if c.building and c.touching]] = True
    return mask_to_bits(near & model.left)


def stays_and_waits(model: Model) -> tuple[int, tuple[tuple[int, int], ...]]:
    """Pieces that are never taken, with all between them, and (pieces, others they wait for); as bits.

    Raises BadInput for a mark on wood where there is none.
    """
    stays, waits = 0, []
    for n, leave in enumerate(model.job.leave):
        piece = _piece_at(model.body, leave.member, leave.at.likely, n)
        if not model.left[piece]:
            continue
        if leave.until is None:
            stays |= 1 << piece
        else:
            waits.append((1 << piece, _limb(model, leave.until)))
    return _joined(model, stays), tuple(w for w in waits if w[1])


def _piece_at(body: Body, member: str, at: float, n: int) -> int:
    own = [(i, p) for i, p in enumerate(body.pieces) if p.member == member]
    for i, p in own:
        if at <= p.end + CLOSE:
            return i
    raise BadInput("There is no wood there to leave on.", f"leave[{n}].at")


def _limb(model: Model, member: str) -> int:
    """Bits of what is left of a limb."""
    return sum(1 << i for i, p in enumerate(model.body.pieces) if p.member == member and model.left[i])


def _joined(model: Model, bits: int) -> int:
    """The pieces and all that lie on the way between them: what stays on stays in one."""
    marked = [i for i in range(len(model.body.pieces)) if bits >> i & 1]
    if len(marked) < 2:
        return bits
    ways = [_way_to_butt(model, i) for i in marked]
    common = set(ways[0]).intersection(*ways[1:])
    fork = max(common, default=0)  # pieces are numbered outward, so the highest common one is where the ways part
    for way in ways:
        bits |= sum(1 << p for p in way[: way.index(fork) + 1])
    return bits


def _way_to_butt(model: Model, piece: int) -> list[int]:
    way = [piece]
    while model.body.parents[way[-1]] >= 0:
        way.append(int(model.body.parents[way[-1]]))
    return way


def kept_on(model: Model, state: int, takes: int, stays: int, waits: tuple[tuple[int, int], ...]) -> str:
    """Why pieces (bits) may not be taken in a state by what the crew marked; "" when nothing is against it."""
    if takes & stays:
        return f"{_names(model, takes & stays)} {_is(takes & stays)} marked never to be taken"
    for own, other in waits:
        if takes & own and state & other:
            others = f"{_names(model, state & other)} {_is(state & other)} off"
            return f"{_names(model, takes & own)} {_is(takes & own)} marked to wait until {others}"
    return ""


def _names(model: Model, bits: int) -> str:
    return ", ".join(p.id for i, p in enumerate(model.body.pieces) if bits >> i & 1)


def _is(bits: int) -> str:
    return "is" if bits.bit_count() == 1 else "are"


def nothing_to_cut(model: Model, state: int, some: bool) -> str:
    """Why the marks leave nothing to cut in a state (bits). some: there are cuts that would spare what is marked."""
    marked = stays_and_waits(model)[0]
    if not state & ~marked:
        why = f"every piece that is still on ({_names(model, state)}) is marked never to be taken"
    elif not some:
        why = "every cut would take wood that is marked to stay on"
    else:
        why = f"{_names(model, marked)} {_is(marked)} marked never to be taken, and would not be held with less wood on"
    return f"The marks leave nothing to cut: {why}."


def staying_in_words(model: Model, stays: int) -> str:
    """What stays on (bits) at the end of the work and why, "" for nothing."""
    if not stays:
        return ""
    marked, waits = stays_and_waits(model)
    waiting = sum(own for own, other in waits if own & stays & ~marked and other & stays)
    holding = stays & ~marked & ~waiting
    why = [f"{_names(model, marked)} as marked"] if stays & ~marked else []
    why += [f"{_names(model, waiting)} because it waits for what stays"] if waiting else []
    why += [f"{_names(model, holding)} because the rest would not be held with less wood on"] if holding else []
    said = f"{_names(model, stays)} stay{'s' if stays.bit_count() == 1 else ''} on"
    return f"{said}: {'; '.join(why)}." if why else f"{said}."


def marks_in_words(model: Model) -> str:
    """The marks in one sentence, "" for none."""
    stays, waits = stays_and_waits(model)
    said = [f"{_names(model, stays)} for good"] if stays else []
    said += [f"{_names(model, own)} until {_names(model, other)} is off" for own, other in waits]
    return f"Marked to stay on: {'; '.join(said)}." if said else ""
