"""The answers of a job as CSV and JSON, with units in the names of the columns."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from bolewright.core.base.plain import plain
from bolewright.core.base.range import Range
from bolewright.documents.given import Given, PhotoRow
from bolewright.documents.insurer_pack.originals import name_of, originals
from bolewright.job.write import dump
from bolewright.planning.haul.bill import Bill, bill
from bolewright.planning.haul.price import Price
from bolewright.planning.results import HoldResult, Plan, WeighResult

Rows = tuple[Sequence[str], list[Sequence[Any]]]
BESIDE = ("drawn_on_a_copy", "in_this_file")
_FORMULA = ("=", "+", "-", "@", "\t", "\r")  # a spreadsheet would take such a text for a formula


def data_files(given: Given) -> dict[str, bytes]:
    """Name and content of every data file there is something for."""
    files = {"data/job.toml": dump(given.job).encode("utf-8")}
    answers = {
        "weigh": given.weigh,
        "hold": given.hold,
        "cuts": given.cuts,
        "out": given.out,
        "price": given.price,
        "bill": bill(given.job),
    }
    there = {name: answer for name, answer in answers.items() if answer is not None}
    files["data/answers.json"] = json.dumps(plain(there), indent=2, ensure_ascii=False).encode("utf-8")
    for name, (heads, rows) in _tables(given):
        if rows:
            files[f"data/{name}.csv"] = as_csv(heads, rows)
    return files


def as_csv(heads: Sequence[str], rows: Iterable[Sequence[Any]]) -> bytes:
    """RFC 4180 with a heading line, UTF-8; a text a spreadsheet would run as a formula gets a leading apostrophe."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(heads)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return text.getvalue().encode("utf-8")


def _cell(value: Any) -> Any:
    if isinstance(value, str) and value.startswith(_FORMULA):
        return "'" + value
    return "" if value is None else value


def _three(value: Range) -> tuple[float, float, float]:
    return value.low, value.likely, value.high


def _beside(photo: PhotoRow, kept: frozenset[str]) -> tuple[str, str]:
    """What was drawn on a copy, and where in the pack the original is."""
    name = name_of(photo)
    return "; ".join(mark.told for mark in photo.drawn), name if name in kept else ""


def _tables(given: Given) -> Iterator[tuple[str, Rows]]:
    """Name, heads and rows of every table there is an answer for."""
    made = bill(given.job)
    if given.weigh is not None:
        yield "pieces", _pieces(given.weigh)
    if given.hold is not None:
        yield "supports", _supports(given.hold)
    if given.plan is not None:
        yield "steps", _steps(given.plan)
    if given.price is not None:
        yield "estimate", _estimate(given.price)
    if made is not None:
        yield "invoice", _invoice(made)
    yield "log", _log(given)
    yield "photographs", _photographs(given)


def _pieces(weigh: WeighResult) -> Rows:
    heads = ("piece", "member", "from_m", "to_m", "mass_low_kg", "mass_likely_kg", "mass_high_kg")
    return heads, [(p.id, p.member, p.start_m, p.end_m, *_three(p.mass_kg)) for p in weigh.pieces]


def _supports(hold: HoldResult) -> Rows:
    heads = ("support", "on", "member", "at_m", "force_low_N", "force_likely_N", "force_high_N", "state")
    return heads, [(s.id, s.kind, s.member, s.at_m, *_three(s.force_N), s.state) for s in hold.supports]


def _steps(plan: Plan) -> Rows:
    heads = (
        "step", "action", "piece", "method", "mass_low_kg", "mass_likely_kg", "mass_high_kg", "building_after_low_N",
        "building_after_likely_N", "building_after_high_N", "minutes",
    )  # fmt: skip
    return heads, [
        (s.n, s.action, s.piece, s.method, *_three(s.mass_kg), *_three(s.building_after_N), s.minutes)
        for s in plan.steps
    ]


def _estimate(price: Price) -> Rows:
    heads = ("part", "what", "unit", "quantity", "rate", "amount_low", "amount_likely", "amount_high")
    return heads, [(x.tag, x.what, x.unit, x.quantity[1], x.rate, *x.amount) for x in price.lines]


def _invoice(made: Bill) -> Rows:
    heads = ("part", "what", "unit", "quantity", "rate", "amount")
    return heads, [(x.tag, x.what, x.unit, x.quantity, x.rate, x.amount) for x in made.lines]


def _log(given: Given) -> Rows:
    """The lines of the job, then those the field sheet kept."""
    rows: list[Sequence[Any]] = [
        (line.on or given.day or "", line.at, line.what, line.by or "") for line in given.job.log
    ]
    rows += [("", row.at, f"{row.kind}: {row.said}" if row.said else row.kind, row.by) for row in given.log]
    return ("day", "time", "what", "by"), rows


def _photographs(given: Given) -> Rows:
    heads = ("number", "file", "sha256", "bytes", "taken", "received", "by", "facing", "shows", *BESIDE)
    kept = frozenset(one.name for one in originals(given))
    return heads, [
        (p.number, p.name, p.sha256, p.size, p.taken, p.received, p.by, p.facing, p.shows, *_beside(p, kept))
        for p in given.photos or ()
    ]
