"""One state of the job checked again: pieces still on, supports in place, loads from outside."""

from __future__ import annotations

from dataclasses import dataclass

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
from bolewright.core.recheck.frame import Frame, build_frame, carried_at_starts, movements_at
from bolewright.core.recheck.supports import Rest, Springs, Wood, come_to_rest

_CARRIES = 1e-9  # share of the load above which a support is said to carry


@dataclass(frozen=True)
class _Answer:
    """The rest position in SI: movements of the nodes (n, 6), forces on element ends (6E,) and in the supports."""

    movement: Floats
    inner: Floats
    force: Floats


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

    SI throughout. Parameters: `on_tree` (K,) marks the segments still there (one connected body), `present` (m,) the
    supports in place; a support or load on wood that is gone counts as absent. Raises BadInput for tilted forces with
    `vertical` or for more than one body.
    Source: direct stiffness method for space frames with unilateral supports.
    Checked by: tests/handbook/test_beams_recheck.py, tests/references/test_frames_agree.py
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
    rest, answer = _rest(frame, used, segments, wood, balance, vertical)
    return _result(frame, there, balance, rest, answer)


def _state(
    segments: Segments,
    supports: Supports,
    on_tree: ArrayLike | None,
    present: ArrayLike | None,
    loads: PointLoads | None,
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
    forces, couples = (supports.direction[there], loads.force), (supports.couple[there], loads.couple)
    sideways = [part[:, :2] for part in forces] + [part[:, 2:] for part in couples]
    whole = [*forces, *couples]
    if any(np.any(np.abs(s) > 1e-12 * np.max(np.abs(w), initial=1e-300)) for s, w in zip(sideways, whole, strict=True)):
        raise BadInput("Only up-and-down forces can be checked here; ask for the full problem.", "vertical")


def _rest(
    frame: Frame, supports: Supports, segments: Segments, wood: Flags, balance: Balance, vertical: bool
) -> tuple[Rest, _Answer]:
    """The rest position, found in units of the load, the body's size and its own softness; and back in SI."""
    bending = segments.bending[wood & ~segments.rigid]
    own = balance.size**3 / float(np.median(bending)) if len(bending) else 0.0
    soft = own + (float(np.median(supports.compliance)) if supports.count else 0.0)
    soft = soft if soft > 0.0 else balance.size / balance.total
    kept = np.array([i for i in range(6 * frame.nodes) if not (vertical and i in (0, 1, 5))])
    arm = np.array([1.0, 1.0, 1.0, *[balance.size] * 3])  # couples and turns are measured at the body's size
    nodes, runs = np.tile(arm, frame.nodes), np.tile(arm, len(frame.elements.segment))
    pure = np.linalg.norm(supports.direction, axis=1) == 0.0
    measure = np.where(pure, balance.size, 1.0)
    moves = soft * balance.total
    wood_ = Wood(
        ties=(sparse.diags_array(runs) @ frame.ties @ sparse.diags_array(1.0 / nodes)).tocsr()[:, kept],
        soft=(sparse.diags_array(runs) @ frame.soft @ sparse.diags_array(runs)).tocsr() / soft,
        sag=runs * frame.sag / moves,
        load=(frame.load / (nodes * balance.total))[kept],
        foot=3 if vertical else 6,
    )
    springs = Springs(
        rows=(sparse.diags_array(measure) @ frame.holds @ sparse.diags_array(1.0 / nodes)).tocsr()[:, kept],
        give=supports.compliance * measure**2 / soft,
        gap=supports.gap * measure / moves,
        lower=supports.lower / (measure * balance.total),
        upper=supports.upper / (measure * balance.total),
    )
    rest = come_to_rest(wood_, springs)
    movement = np.zeros(6 * frame.nodes)
    movement[kept] = rest.lie.movement
    return rest, _Answer(
        movement=(movement * moves / nodes).reshape(-1, 6),
        inner=rest.lie.inner * runs * balance.total,
        force=rest.force * measure * balance.total,
    )


def _not_held(count: int, supports: int, motion: Floats, balance: Balance) -> RecheckResult:
    nothing = np.full((count, 6), np.nan)
    return RecheckResult(
        NOT_HELD, np.full(supports, np.nan), np.nan, np.nan, nothing, nothing.copy(), len(balance.rows), 0, motion
    )


def _result(
    frame: Frame,
    there: Flags,
    balance: Balance,
    rest: Rest,
    answer: _Answer,
) -> RecheckResult:
    forces = np.zeros(len(there))
    forces[there] = answer.force
    return RecheckResult(
        status=HELD if rest.settled else UNSETTLED,
        forces=forces,
        residual=imbalance(balance, answer.force),
        complementarity=rest.breach,
        displacements=movements_at(frame.ends, answer.movement),
        carried=carried_at_starts(frame, answer.inner, len(frame.ends)),
        loose=loose_motions(balance, np.abs(rest.force) > _CARRIES),
        rounds=rest.rounds,
    )
