"""The tree as the pieces it would come off in: where each starts and ends, what it weighs, which one carries which."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bolewright.core.base.errors import BadInput
from bolewright.core.tree.assembly import GROUPS, Assembly
from bolewright.core.tree.axis import CLOSE
from bolewright.core.tree.mass import AS_LIKELY
from bolewright.core.tree.outline import diameters_at

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Piece:
    """A run of one member between two cuts. A limb's first piece starts at the bark of what it grows from."""

    id: str
    member: str
    start: float  # distance along the member
    end: float


def divide(assembly: Assembly, cuts: Iterable[tuple[str, float]]) -> tuple[Piece, ...]:
    """The pieces the cuts (member, distance [m]) make: S1, S2 ... from the butt; a limb by its name, or L1a, L1b ...
    outward when it is cut too. Every limb comes off its parent. A cut at an end of a member, or in the parent's wood,
    adds nothing.

    Raises BadInput for a cut on no member or beyond its end.
    Source: house rule.
    Checked by: tests/unit/tree/test_pieces.py
    """
    own: dict[str, list[float]] = {member: [] for member in assembly.members}
    for i, (member, s) in enumerate(cuts):
        if member not in own:
            raise BadInput(f"There is no stem or limb called {member!r}.", f"cut[{i}].member")
        tip = assembly.length_of(member)
        if not -CLOSE <= s <= tip + CLOSE:
            raise BadInput(f"A cut at {s:.2f} m is off {member}, which is {tip:.2f} m long.", f"cut[{i}].at")
        own[member].append(s)
    pieces = tuple(piece for member, at in own.items() for piece in _run(assembly, member, at))
    for name, count in Counter(piece.id for piece in pieces).items():
        if count > 1:
            raise BadInput(f"Two pieces would be called {name}; rename the limb of that name.", "tree.limb")
    return pieces


def _run(assembly: Assembly, member: str, cuts: list[float]) -> list[Piece]:
    base, tip = assembly.stub_of(member), assembly.length_of(member)
    ends = [base]
    for s in sorted(cuts):
        if ends[-1] + CLOSE < s < tip - CLOSE:
            ends.append(s)
    ends.append(tip)
    count = len(ends) - 1
    return [Piece(_name(assembly, member, i, count), member, ends[i], ends[i + 1]) for i in range(count)]


def _name(assembly: Assembly, member: str, i: int, count: int) -> str:
    if member == assembly.members[0]:
        return f"S{i + 1}"
    return member if count == 1 else member + letters(i)


def letters(i: int) -> str:
    """a, b ... z, aa, ab ... for 0, 1 ... (a count [-]).

    Plain: names only.
    """
    text = ""
    i += 1
    while i > 0:
        i, rest = divmod(i - 1, 26)
        text = chr(ord("a") + rest) + text
    return text


def label_segments(assembly: Assembly, pieces: Sequence[Piece]) -> Ints:
    """The piece (K,) int each segment belongs to; a limb's stub goes with its first piece.

    Raises BadInput when a piece ends inside a segment (build the assembly with `split_at` there) or when part of a
    member belongs to no piece.
    Source: house rule.
    Checked by: tests/unit/tree/test_pieces.py
    """
    labels = np.full(assembly.member.size, -1, dtype=np.int64)
    middle = (assembly.s_start + assembly.s_end) / 2.0
    for i, piece in enumerate(pieces):
        own = assembly.of(piece.member)
        s0, s1 = assembly.s_start[own], assembly.s_end[own]
        for s in (piece.start, piece.end):
            if np.any((s0 + 2.0 * CLOSE < s) & (s < s1 - 2.0 * CLOSE)):
                raise BadInput(f"Piece {piece.id} ends at {s:.3f} m, inside a segment of {piece.member}.", "split_at")
        inside = (piece.start < middle[own]) & (middle[own] < piece.end)
        inside |= assembly.stub[own] & (abs(piece.start - assembly.stub_of(piece.member)) <= CLOSE)
        labels[own][inside] = i
    if np.any(labels < 0):
        member = assembly.members[int(assembly.member[int(np.argmin(labels))])]
        raise BadInput(f"Part of {member} belongs to no piece.", "cut")
    return labels


def piece_masses(assembly: Assembly, labels: Ints, count: int) -> Floats:
    """Mass [kg] per piece and group (P, 5), lumps with the segment that carries them; labels (K,).

    Source: a sum.
    Checked by: tests/properties/test_tree_mass.py
    """
    total = np.zeros((count, len(GROUPS)))
    np.add.at(total, labels, assembly.mass)
    np.add.at(total, labels[assembly.lump_segment], assembly.lump_mass)
    return total


def piece_moments(assembly: Assembly, labels: Ints, count: int) -> Floats:
    """Mass times position [kg m] per piece and group (P, 5, 3) about the origin; labels (K,).

    Source: mechanics, first moment of mass.
    Checked by: tests/properties/test_tree_mass.py
    """
    total = np.zeros((count, len(GROUPS), 3))
    middle = (assembly.start + assembly.end) / 2.0
    np.add.at(total, labels, assembly.mass[:, :, None] * middle[:, None, :])
    lump = assembly.lump_mass[:, :, None] * assembly.lump_point[:, None, :]
    np.add.at(total, labels[assembly.lump_segment], lump)
    return total


def piece_centres(assembly: Assembly, labels: Ints, count: int, factors: ArrayLike = AS_LIKELY) -> Floats:
    """Centre of mass [m] of each piece without what it carries, (..., P, 3) for factors (..., 5).

    A piece without mass has its centre at the middle of its segments.

    Source: mechanics, first moment over mass.
    Checked by: tests/properties/test_tree_mass.py
    """
    given = np.asarray(factors, dtype=float)
    mass = given @ piece_masses(assembly, labels, count).T
    moment = np.einsum("...g,pgk->...pk", given, piece_moments(assembly, labels, count))
    held = np.bincount(labels, minlength=count)
    middle = np.zeros((count, 3))
    np.add.at(middle, labels, (assembly.start + assembly.end) / 2.0)
    middle /= np.maximum(held, 1)[:, None]
    empty = mass <= 0.0
    return np.asarray(np.where(empty[..., None], middle, moment / np.where(empty, 1.0, mass)[..., None]))


def piece_parents(assembly: Assembly, labels: Ints, count: int) -> Ints:
    """The piece (P,) int each piece hangs on, -1 for the one at the butt.

    Source: the branching of the assembly.
    Checked by: tests/unit/tree/test_pieces.py
    """
    parent = np.full(count, -1, dtype=np.int64)
    carried = assembly.parent >= 0
    own, on = labels[carried], labels[assembly.parent[carried]]
    between = own != on
    parent[own[between]] = on[between]
    return parent


def subtree(parents: ArrayLike) -> NDArray[np.bool_]:
    """(P, P) true where piece j leaves when piece i is cut off at its base: j itself and all it carries.

    Parameters: parents (P,) int from `piece_parents`.
    Source: the branching of the assembly.
    Checked by: tests/unit/tree/test_pieces.py
    """
    on = np.asarray(parents, dtype=np.int64)
    leaves = np.eye(on.size, dtype=bool)
    for j in range(on.size):
        i = int(on[j])
        while i >= 0:
            leaves[i, j] = True
            i = int(on[i])
    return leaves


def piece_lengths(pieces: Sequence[Piece]) -> Floats:
    """Length [m] of each piece (P,) along its member.

    Source: a difference.
    Checked by: tests/unit/tree/test_pieces.py
    """
    return np.array([piece.end - piece.start for piece in pieces], dtype=float)


def piece_diameters(assembly: Assembly, pieces: Sequence[Piece]) -> Floats:
    """Outside diameter [m] at the base and outer end of each piece (P, 2).

    Source: linear taper between stations.
    Checked by: tests/unit/tree/test_pieces.py
    """
    both = [diameters_at(assembly, piece.member, [piece.start, piece.end]) for piece in pieces]
    return np.array(both, dtype=float).reshape(len(pieces), 2)
