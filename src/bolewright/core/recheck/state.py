"""One state of the job checked again: pieces still on, supports in place, loads from outside."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy import sparse

from bolewright.core.base.errors import BadInput
from bolewright.core.recheck.body import (
    HELD,
    NOT_HELD,
    UNSETTLED,
    Flags,
    Floats,
    PointLoads,
    RecheckResult,
    Segments,
    Supports,
)
from bolewright.core.recheck.equilibrium import (
    ALL_ROWS,
    VERTICAL_ROWS,
    Balance,
    balance_of,
    imbalance,
    loose_motions,
    motion_nothing_resists,
)
from bolewright.core.recheck.frame import Frame, build_frame, carried_at_starts, movement_at
from bolewright.core.recheck.supports import Rest, Springs, come_to_rest

_CARRIES = 1e-9  # share of the load above which a support is said to carry


def recheck_state(
    segments: Segments,
    supports: Supports,
    *,
    on_tree: ArrayLike | None = None,
    present: ArrayLike | None = None,
    loads: PointLoads | None = None,
    vertical: bool = True,
) -> RecheckResult:
    """What holds one body of wood, by assembled stiffness: forces, movements and how well they balance.

    The wood is an elastic frame let down onto springs that only push (or pull, or hold up to a limit). Small turns are
    meant: a body that must swing far to reach its next support is answered for its first position, which misjudges the
    lever arms by about the turn in radians. `vertical` keeps only up-and-down forces and pins the foot sideways,
    where nothing pushes; otherwise directions may be any and all six balances are met.

    Parameters: `on_tree` (K,) marks the segments still there (one connected body), `present` (m,) the supports in
    place; a support or load on wood that is gone counts as absent. Raises BadInput for tilted forces with `vertical`
    or for more than one body.
    Source: direct stiffness method for space frames with unilateral supports.
    Checked by: tests/handbook/test_beams_recheck.py, tests/references/test_frames_agree.py.
    """
    wood, there, given = _state(segments, supports, on_tree, present, loads)
    if vertical:
        _check_vertical(supports, there, given)
    rows = VERTICAL_ROWS if vertical else ALL_ROWS
    used = _pick(supports, there)
    balance = balance_of(segments, wood, used, given, rows)
    frame = build_frame(segments, wood, used, given)
    motion = motion_nothing_resists(balance, used.lower, used.upper)
    if motion is not None:
        return _not_held(segments.count, supports.count, motion, balance)
    rest, scale = _rest(frame, used, segments, wood, balance, vertical)
    return _result(frame, segments, supports, there, balance, rest, scale)


def _state(
    segments: Segments, supports: Supports, on_tree: ArrayLike | None, present: ArrayLike | None, loads: PointLoads | None
) -> tuple[Flags, Flags, PointLoads]:
    wood = np.ones(segments.count, dtype=bool) if on_tree is None else np.asarray(on_tree, dtype=bool)
    there = np.ones(supports.count, dtype=bool) if present is None else np.asarray(present, dtype=bool)
    given = PointLoads.none() if loads is None else loads
    for name, which in (("supports", supports.segment), ("loads", given.segment)):
        if len(which) and (which.min() < 0 or which.max() >= segments.count):
            raise BadInput(f"One of the {name} is on a segment that does not exist.", f"{name}.segment")
    return wood, there & wood[supports.segment], given.where(wood[given.segment])


def _pick(supports: Supports, there: Flags) -> Supports:
    return Supports(*(getattr(supports, name)[there] for name in Supports.__dataclass_fields__))


def _check_vertical(supports: Supports, there: Flags, loads: PointLoads) -> None:
    sideways = [supports.direction[there][:, :2], loads.force[:, :2], supports.couple[there][:, 2:], loads.couple[:, 2:]]
    if any(np.any(np.abs(part) > 1e-12 * max(1.0, float(np.max(np.abs(part), initial=0.0)))) for part in sideways):
        raise BadInput("Only up-and-down forces can be checked in the vertical problem; ask for the full one.", "vertical")


def _rest(
    frame: Frame, supports: Supports, segments: Segments, wood: Flags, balance: Balance, vertical: bool
) -> tuple[Rest, tuple[Floats, Floats, float]]:
    """The rest position in scaled units, and the scales: of movements, of forces and of the drag-free freedoms."""
    bending = segments.bending[wood & ~segments.rigid]
    own = balance.size**3 / float(np.median(bending)) if len(bending) else 0.0
    soft = own + (float(np.median(supports.compliance)) if supports.count else 0.0)
    soft = soft if soft > 0.0 else balance.size / balance.total
    kept = np.array([i for i in range(6 * frame.nodes) if not (vertical and i in (0, 1, 5))])
    unit = np.tile([1.0, 1.0, 1.0, *[1.0 / balance.size] * 3], frame.nodes)
    pure = np.linalg.norm(supports.direction, axis=1) == 0.0
    measure = np.where(pure, balance.size, 1.0)
    rows = sparse.diags(measure) @ frame.holds @ sparse.diags(unit)
    stiffness = (sparse.diags(unit) @ frame.stiffness @ sparse.diags(unit)).tocsc() * soft
    springs = Springs(
        rows=rows.tocsr()[:, kept],
        give=supports.compliance * measure**2 / soft,
        gap=supports.gap * measure / (soft * balance.total),
        lower=supports.lower / (measure * balance.total),
        upper=supports.upper / (measure * balance.total),
    )
    load = (unit * frame.load / balance.total)[kept]
    rest = come_to_rest(stiffness[kept][:, kept].tocsc(), load, springs, 3 if vertical else 6)
    whole = np.zeros(6 * frame.nodes)
    whole[kept] = rest.movement
    return rest, (whole * unit * soft * balance.total, measure * balance.total, soft)


def _not_held(count: int, supports: int, motion: Floats, balance: Balance) -> RecheckResult:
    nothing = np.full((count, 6), np.nan)
    return RecheckResult(
        NOT_HELD, np.full(supports, np.nan), np.nan, np.nan, nothing, nothing.copy(), len(balance.rows), 0, motion
    )


def _result(
    frame: Frame,
    segments: Segments,
    supports: Supports,
    there: Flags,
    balance: Balance,
    rest: Rest,
    scale: tuple[Floats, Floats, float],
) -> RecheckResult:
    movement = scale[0].reshape(-1, 6)
    used = rest.force * scale[1]
    forces = np.zeros(supports.count)
    forces[there] = used
    ends = np.array([np.full(6, np.nan) if grip is None else movement_at(grip, movement) for grip in frame.ends])
    return RecheckResult(
        status=HELD if rest.settled else UNSETTLED,
        forces=forces,
        residual=imbalance(balance, used),
        complementarity=rest.breach,
        displacements=ends,
        carried=carried_at_starts(frame, movement, segments.count),
        loose=loose_motions(balance, np.abs(rest.force) > _CARRIES),
        rounds=rest.rounds,
    )
