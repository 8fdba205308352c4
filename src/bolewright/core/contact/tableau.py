"""One contact set solved for many columns at once, and from it every set that differs by a few contacts.

Three contacts that carry, the footing, are taken to balance whatever the others do: their forces follow from the
other forces y by statics, l = part - K y, for all columns with the same three rows K. What is left is an energy
problem in y alone, of the contacts' flexibility seen from the footing. Its table of coefficients is turned inside out
for the contacts that carry in the base set, one principal pivot each, all columns together; it then tells, at once,
what every contact does in that set: the force of one that carries, the opening of one that does not.

A set in which k contacts do otherwise needs no new table: a system of k equations, whose coefficients stand in the
table already, says what those k do, and the others follow. That is what makes exchanging contacts cheap.

Source: principal pivot transform, Tucker, in Combinatorial Analysis, Proc. Symp. Appl. Math. 10, 1960; symmetric sweep
of a table: Goodnight, The American Statistician 33(3), 1979.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import qr

from bolewright.core.contact.trial import Array, Bools, Problem

FLAT = 1e-6  # of the widest: a footing narrower than this is none
BANDS = 3
Numbers = NDArray[np.int64]


class Room:
    """Working memory that is used again: fresh memory costs more than the arithmetic done in it."""

    def __init__(self) -> None:
        self.kept: dict[str, Array] = {}

    def floats(self, name: str, *shape: int) -> Array:
        """An array of this shape with whatever was left in it; good until the name is asked for again."""
        size = math.prod(shape)
        have = self.kept.get(name)
        if have is None or have.size < size:
            have = self.kept[name] = np.zeros(size)
        return have[:size].reshape(shape)


_SPARE: list[Room] = []


@contextmanager
def room() -> Iterator[Room]:
    """A room that nobody else works in meanwhile."""
    try:
        own = _SPARE.pop()
    except IndexError:
        own = Room()
    try:
        yield own
    finally:
        _SPARE.append(own)


@dataclass(frozen=True)
class Tableau:
    """A base set solved for B columns. n contacts, footing three of them.

    table (n + 1, n, W >= B): row i tells what contact i does, -force where it carries in the base set, else its
    opening, for a unit of what the others do the other way round; the last row is nothing. alone (n, W): what each
    does when the others do nothing else. base (n,) true where a contact carries. footing (3,); share (3, n): what the
    footing gives up for a unit of each contact; part (3, B) its forces when the others carry nothing [N]; back (3, 3):
    columns of the footing inverted; order (n,): the contacts, the footing's last; sign (n, 1): turns the rows into
    forces and openings.
    """

    table: Array
    alone: Array
    base: Bools
    footing: Numbers
    share: Array
    part: Array
    back: Array
    order: Numbers
    sign: Array
    room: Room

    def at_base(self) -> Array:
        """(n, B) force of what carries [N] and opening of what does not [m], in the base set."""
        return np.asarray(self.alone[:, : self.part.shape[1]] * self.sign)


def footing_of(columns: Array, give: Array, base: Bools) -> Numbers | None:
    """Three contacts (3,) of the base set that stand wide apart and give little; None where no three can balance.

    columns (3, n); give (n,) flexibility of each contact by itself [m/N].
    Source: rank-revealing factorisation with column exchange, Golub & Van Loan, Matrix Computations, 4th ed., 5.4.2.
    Checked by: tests/unit/contact/test_tableau.py.
    """
    carry = np.flatnonzero(base)
    if len(carry) < 3 or len(columns) != 3:
        return None
    scaled = columns[:, carry] / np.sqrt(give[carry])
    _, right, order = qr(scaled, mode="economic", pivoting=True)
    widest, narrowest = abs(right[0, 0]), abs(right[2, 2])
    return np.sort(carry[order[:3]]) if narrowest > FLAT * widest else None


def tableau(problem: Problem, base: Bools, footing: Numbers, room: Room) -> Tableau:
    """The table (n + 1, n, B) of a base set, true where a contact carries; the footing must be among them. SI.

    It stays good until the next is made in the same room.
    Source: see the module.
    Checked by: tests/unit/contact/test_tableau.py.
    """
    n, count = problem.offset.shape
    back: Array = np.asarray(np.linalg.inv(problem.columns[:, footing]), dtype=float)
    share = back @ problem.columns
    share[:, footing] = np.eye(3)
    part = -(back @ problem.weight)
    wide = _odd(count)
    table, alone = room.floats("table", n + 1, n, wide), room.floats("alone", n, wide)
    work = room.floats("work", n, n, wide)
    seen = table[:n, :, :count], alone[:, :count], work[:, :, :count]
    _seen_from_footing(problem, footing, share, part, *seen, room)
    table[footing] = share[:, :, None]
    table[:n, footing] = share.T[:, :, None]
    table[np.ix_(footing, footing)] = 0.0
    alone[footing, :count] = -part
    table[n] = 0.0
    swept = base.copy()
    swept[footing] = False
    for k in np.flatnonzero(swept):
        _sweep(table, alone, int(k), work, room)
    for i in range(n - 1):
        table[i, i + 1 :] = table[i + 1 : n, i]
    order = np.concatenate([np.delete(np.arange(n), footing), footing])
    sign = np.where(base, -1.0, 1.0)[:, None]
    return Tableau(table, alone, base, footing, share, part, back, order, sign, room)


def _odd(count: int) -> int:
    """A row length that is an odd number of eights: rows a power of two apart fall on the same places of a cache."""
    return 8 * (-(-count // 8) | 1)


def _seen_from_footing(
    problem: Problem, footing: Numbers, share: Array, part: Array, table: Array, alone: Array, work: Array, room: Room
) -> None:
    """Write flexibility and movement of the contacts when the footing balances them, P'Q P and P'(Q part + offset) with
    P = 1 - share at the footing. Products contact by contact, too small for a library to start threads for."""
    q = problem.flexibility
    n, count = problem.offset.shape
    own = room.floats("own", n, 3, count)
    both = room.floats("both", 3, n, count)
    np.matmul(share.T, np.stack([q[d][footing] for d in footing]), out=both)
    both *= 0.5
    for i, d in enumerate(footing):
        np.subtract(q[d], both[i], out=own[:, i])
    np.matmul(share.T, own, out=work)
    for first, last in _bands(n):
        np.subtract(q[first:last, :last], work[first:last, :last], out=table[first:last, :last])
        table[first:last, :last] -= work[:last, first:last].transpose(1, 0, 2)
    own -= both.transpose(1, 0, 2)
    own *= part
    own.sum(axis=1, out=alone)
    alone += problem.offset
    alone -= share.T @ problem.offset[footing]


def _bands(n: int) -> list[tuple[int, int]]:
    """First and last row of the bands a symmetric table is worked on in, each only up to its diagonal."""
    edges = [i * n // BANDS for i in range(BANDS + 1)]
    return [(a, b) for a, b in zip(edges, edges[1:], strict=False) if b > a]


def _sweep(table: Array, alone: Array, k: int, work: Array, room: Room) -> None:
    """Contact k carries from now on: a principal pivot in the lower half of the table."""
    n, wide = alone.shape
    row, times = room.floats("row", n, wide), room.floats("times", n, wide)
    row[: k + 1], row[k + 1 :] = table[k, : k + 1], table[k + 1 : n, k]
    inverse = 1.0 / row[k]
    np.multiply(row, inverse, out=times)
    for first, last in _bands(n):
        step = work.reshape(-1)[: (last - first) * last * wide].reshape(last - first, last, wide)
        np.multiply(row[first:last, None], times[None, :last], out=step)
        table[first:last, :last] -= step
    own = alone[k] * inverse
    np.multiply(row, own, out=work[0])
    alone -= work[0]
    alone[k] = own
    table[k, :k], table[k + 1 : n, k] = times[:k], times[k + 1 :]
    np.negative(inverse, out=table[k, k])


def nearby(tableau: Tableau, which: Numbers, other: Bools, many: Numbers, fixed: Array | None) -> Array:
    """(n, b) force of what carries [N] and opening of what does not [m], in sets that differ from the base set.

    which (b,): numbers of the columns; other (n, b): contacts that do otherwise than in the base set; many (b,): how
    many they are, in rising order; fixed (n, b): forces of the contacts that do not carry freely [N], None for all
    zero. A set that holds nothing comes out huge or not a number.
    Source: see the module.
    Checked by: tests/unit/contact/test_tableau.py.
    """
    n, b, k = len(tableau.base), len(which), int(many[-1])
    out = np.zeros((n + 1, b))
    np.take(tableau.alone, which, axis=1, out=out[:n], mode="clip")
    if fixed is not None:
        out[:n] += _by_fixed(tableau, which, other, fixed)
    if k:
        members = _members(tableau, other, many, k)
        at = members * b + np.arange(b)
        change = out.reshape(-1)[at]
        rows = _rows(tableau, members, which)
        _solve(_coefficients(rows, members, many, tableau.room), change)
        rows *= change
        out[:n] -= rows.sum(axis=1)
    out[:n] *= tableau.sign
    if k:
        out.reshape(-1)[at] = -change
    return out[:n]


def _by_fixed(tableau: Tableau, which: Numbers, other: Bools, fixed: Array) -> Array:
    """(n, b) what forces that are given do: those outside the base set push through the table, those in it and
    stopped must come out as given."""
    out = np.where(tableau.base[:, None], fixed, 0.0)
    for i in np.flatnonzero((fixed != 0.0).any(axis=1) & ~tableau.base):
        out += tableau.table[i][:, which] * np.where(other[i], 0.0, fixed[i])
    return out


def _members(tableau: Tableau, other: Bools, many: Numbers, k: int) -> Numbers:
    """(k, b) numbers of the contacts that do otherwise, the footing's last; n where there are fewer than k."""
    n, b = other.shape
    order = tableau.order
    found = order[np.flatnonzero(other[order].T) % n]
    if many[0] == k:
        return np.ascontiguousarray(found.reshape(b, k).T)
    out = np.full((b, k), n)
    out[np.arange(k) < many[:, None]] = found
    return np.ascontiguousarray(out.T)


def _rows(tableau: Tableau, members: Numbers, which: Numbers) -> Array:
    """(n, k, b) coefficients of all contacts in the rows of the members; zero for those that are wanting."""
    k, b = members.shape
    _, n, wide = tableau.table.shape
    flat, at = tableau.table.reshape(-1), members * (n * wide) + which
    rows = tableau.room.floats("rows", n, k, b)
    for j in range(n):
        np.take(flat[j * wide :], at, out=rows[j], mode="clip")
    return rows


def _coefficients(rows: Array, members: Numbers, many: Numbers, room: Room) -> Array:
    """(k, k, b) of the members among themselves; ones for those that are wanting."""
    n, k, b = rows.shape
    flat, at = rows.reshape(-1), np.minimum(members, n - 1) * (k * b) + np.arange(b)
    out = room.floats("among", k, k, b)
    for i in range(k):
        np.take(flat[i * b :], at, out=out[i], mode="clip")
    if many[0] < k:
        wanting = np.arange(k)[:, None] >= many
        out *= ~wanting
        out[np.arange(k), np.arange(k)] += wanting
    return out


def _solve(matrix: Array, x: Array) -> None:
    """Solve b small systems in place: matrix (k, k, b), x (k, b). First those that come to carry or to open, then the
    footing: in that order no pivot is zero unless the set holds nothing."""
    k = len(x)
    for i in range(k - 1):
        times = matrix[i + 1 :, i] / matrix[i, i]
        matrix[i + 1 :, i + 1 :] -= times[:, None] * matrix[i, i + 1 :]
        x[i + 1 :] -= times * x[i]
    for i in range(k - 1, -1, -1):
        x[i] /= matrix[i, i]
        if i:
            x[:i] -= matrix[:i, i] * x[i]
