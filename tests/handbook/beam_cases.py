"""Published and closed-form beam cases (data/beams.csv) as straight wood along x on vertical supports.

Whatever is checked against them turns `Beam` into its own arrays and answers four kinds of question: the force of a
support, the bending moment at a place or its greatest over a stretch, and the sag likewise. SI or unit coefficients,
as the row gives them; forces up and sags down are positive, moments positive where they stretch the underside.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

DATA = Path(__file__).parent / "data" / "beams.csv"
INF = float("inf")


@dataclass(frozen=True)
class Hold:
    """A support under the beam: where, its compliance, how far it has settled; a fixed one also holds the slope."""

    x: float
    compliance: float = 0.0
    gap: float = 0.0
    fixed: bool = False


@dataclass(frozen=True)
class Beam:
    """Stations along x with what lies between them; `loads` are (x, downward force)."""

    stations: NDArray[np.float64]  # (n + 1,)
    EI: NDArray[np.float64]  # (n, 2) at both ends of each run, fourth-root linear between
    weight_per_length: NDArray[np.float64]  # (n,)
    loads: tuple[tuple[float, float], ...]
    holds: tuple[Hold, ...]


@dataclass(frozen=True)
class Question:
    """What is asked of a beam: "force" (of hold number `which`), or "moment" or "sag", times a sign, at a place or the
    greatest over a stretch of x."""

    kind: str
    which: int = 0
    at: tuple[float, float] = (0.0, 0.0)
    sign: float = 1.0


@dataclass(frozen=True)
class BeamCase:
    """One row: a beam, a question and the published answer."""

    name: str
    beam: Beam
    question: Question
    expected: float
    rel_tol: float
    status: str
    source: str


def cases() -> Iterator[BeamCase]:
    """Every row of the data file that a builder is written for; a row without one is an error."""
    with DATA.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            given = json.loads(row["inputs_json"])
            beam, questions = BUILDERS[row["model"]](given)
            yield BeamCase(
                name=f"{row['case_id']}-{row['model']}-{row['quantity']}",
                beam=beam,
                question=questions[row["quantity"]],
                expected=float(row["expected"]),
                rel_tol=float(row["rel_tol"]),
                status=row["status"],
                source=row["source"],
            )


def line(
    length: float,
    holds: list[Hold],
    loads: list[tuple[float, float]] | None = None,
    spread: list[tuple[float, float, float]] | None = None,
    EI: float = 1.0,
    per_unit: int = 24,
) -> Beam:
    """A prismatic beam cut at everything that happens on it; `spread` holds (from, to, load per length)."""
    loads, spread = loads or [], spread or []
    marks = {0.0, length, *(h.x for h in holds), *(x for x, _ in loads), *(x for a, b, _ in spread for x in (a, b))}
    corners = np.array(sorted(marks))
    stations = np.unique(
        np.concatenate([np.linspace(a, b, per_unit + 1) for a, b in zip(corners[:-1], corners[1:], strict=True)])
    )
    middle = 0.5 * (stations[:-1] + stations[1:])
    weight = sum((np.where((middle > a) & (middle < b), w, 0.0) for a, b, w in spread), np.zeros(len(middle)))
    return Beam(stations, np.full((len(middle), 2), EI), weight, tuple(loads), tuple(holds))


def spans(given: dict[str, Any], lengths: list[float], w: list[float], scale: float = 1.0, EI: float = 1.0) -> Beam:
    """A continuous beam on pinned supports, each span with its own load."""
    x = np.concatenate([[0.0], np.cumsum(lengths)])
    point = [
        (float(given[f"x_P{u}"]), float(given[f"P{v}"]) * scale)
        for u, v in (("", ""), ("_m", "_kN"))
        if f"x_P{u}" in given
    ]
    spread = [(float(a), float(b), q * scale) for a, b, q in zip(x[:-1], x[1:], w, strict=True)]
    return line(float(x[-1]), [Hold(float(s)) for s in x], point, spread, EI)


def forces(**names: int) -> dict[str, Question]:
    """Questions for the forces of holds."""
    return {name: Question("force", which) for name, which in names.items()}


def moment(a: float, b: float | None = None, sign: float = 1.0) -> Question:
    """The moment at a place, or the greatest between two, times a sign."""
    return Question("moment", at=(a, a if b is None else b), sign=sign)


def sag(a: float, b: float | None = None, sign: float = 1.0) -> Question:
    """The sag at a place, or the greatest between two, times a sign."""
    return Question("sag", at=(a, a if b is None else b), sign=sign)


Built = tuple[Beam, dict[str, Question]]


def _simple_udl(g: dict[str, Any]) -> Built:
    beam = line(1.0, [Hold(0.0), Hold(1.0)], spread=[(0.0, 1.0, g["w"])])
    return beam, {"reaction_each": Question("force", 1), "M_max": moment(0, 1), "defl_max": sag(0, 1)}


def _simple_point(g: dict[str, Any]) -> Built:
    a = g.get("a", 0.5)
    beam = line(1.0, [Hold(0.0), Hold(1.0)], [(a, g["P"])], per_unit=400)
    asked = {"M_max": moment(a), "M_at_load": moment(a), "defl_at_load": sag(a), "defl_max": sag(0, 1)}
    return beam, asked | forces(R_left=0)


def _cantilever(g: dict[str, Any]) -> Built:
    point = [(g.get("a_from_base", 1.0), g["P"])] if "P" in g else []
    beam = line(1.0, [Hold(0.0, fixed=True)], point, [(0.0, 1.0, g.get("w", 0.0))])
    return beam, {"M_base_abs": moment(0, sign=-1), "defl_tip": sag(1.0)}


def _overhang(stretch: Callable[[float], tuple[float, float]] | None) -> Callable[[dict[str, Any]], Built]:
    def build(g: dict[str, Any]) -> Built:
        end = 1.0 + g["a_overhang"]
        spread = [(*stretch(end), g["w"])] if stretch else []
        beam = line(end, [Hold(0.0), Hold(1.0)], [] if stretch else [(end, g["P"])], spread, per_unit=100)
        asked = forces(R_far=0, R_near=1) | {"R_far_uplift": Question("force", 0, sign=-1)}
        asked |= {
            "M_pos": moment(0, 1),
            "M_support_abs": moment(1, sign=-1),
            "defl_tip_down": sag(end),
            "defl_tip": sag(end),
        }
        return beam, asked | {"defl_tip_up": sag(end, sign=-1), "defl_up_between_supports": sag(0, 1, sign=-1)}

    return build


def _double_overhang(g: dict[str, Any]) -> Built:
    a = g["a_left"]
    beam = line(1 + 2 * a, [Hold(a), Hold(1 + a)], spread=[(0.0, 1 + 2 * a, g["w"])])
    return beam, forces(R_each=0) | {"M_mid": moment(a + 0.5)}


def _propped(g: dict[str, Any]) -> Built:
    a = g.get("a_from_pin", 0.5)
    point, spread = ([(a, g["P"])], []) if "P" in g else ([], [(0.0, 1.0, g["w"])])
    beam = line(1.0, [Hold(0.0), Hold(1.0, fixed=True)], point, spread, per_unit=200)
    asked = forces(R_pin=0, R_fixed=1) | {
        "M_fixed_abs": moment(1, sign=-1),
        "M_pos": moment(0, 1),
        "M_at_load": moment(a),
    }
    return beam, asked | {"defl_max": sag(0, 1), "defl_at_load": sag(a)}


def _fixed_fixed(g: dict[str, Any]) -> Built:
    point, spread = ([(0.5, g["P"])], []) if "P" in g else ([], [(0.0, 1.0, g["w"])])
    beam = line(1.0, [Hold(0.0, fixed=True), Hold(1.0, fixed=True)], point, spread)
    return beam, {"M_end_abs": moment(1, sign=-1), "M_mid": moment(0.5), "defl_max": sag(0, 1)}


def _continuous_unit(g: dict[str, Any]) -> Built:
    beam = spans(g, g["spans"], g.get("w", [0.0] * len(g["spans"])))
    end = float(sum(g["spans"]))
    asked = forces(R1=0, R2=1, R3=2, R4=3, R5=4) | {
        "M_support_abs": moment(1, sign=-1),
        "M_support1_abs": moment(1, sign=-1),
    }
    asked |= {
        "M_support2_abs": moment(2, sign=-1),
        "M_pos": moment(0, 1),
        "M_pos_end": moment(0, 1),
        "M_pos_mid": moment(1, 2),
    }
    return beam, asked | {"M_mid": moment(1.5), "M_at_load": moment(0.5), "defl_max": sag(0, end)}


def _two_unequal(g: dict[str, Any]) -> Built:
    beam = spans(g, g["spans_m"], [g["w_kN_m"]] * 2)
    return beam, forces(R1=0, R2=1, R3=2) | {"M_support_abs": moment(3, sign=-1)}


def _continuous(g: dict[str, Any]) -> Built:
    w = g["w_kN_m"] if isinstance(g["w_kN_m"], list) else [0.0, g["w_kN_m"]]
    beam = spans(g, g["spans_m"], w)
    return beam, forces(R_A=0, R_B=1) | {"M_B": moment(3), "M_2": moment(4), "M_3": moment(6)}


def _equal_reactions(g: dict[str, Any]) -> Built:
    a = 1.319395881  # the published overhang, 1.319 m, with the digits of the exact solution
    holds = [Hold(a), Hold(a + 3), Hold(a + 6)]
    beam = line(2 * a + 6, holds, spread=[(0.0, 2 * a + 6, g["w_N_m"])])
    return beam, forces(R_each=0) | {"M_B": moment(a + 3)}


def _settlement(g: dict[str, Any]) -> Built:
    x = np.concatenate([[0.0], np.cumsum(g["spans_in"])])
    holds = [Hold(float(s), gap=-float(d)) for s, d in zip(x, g["settlement_in"], strict=True)]
    beam = line(float(x[-1]), holds, spread=[(0.0, float(x[-1]), g["w_kip_in"])], EI=g["E_ksi"] * g["I_in4"])
    return beam, {f"R{i + 1}_{kind}": Question("force", i) for i in range(4) for kind in ("textbook", "exact")}


def _middle_spring(g: dict[str, Any]) -> Built:
    beam = line(2.0, [Hold(0.0), Hold(1.0, 1 / g["k_mid"]), Hold(2.0)], spread=[(0.0, 2.0, g["w"])])
    return beam, forces(R_spring=1)


def _tip_spring(g: dict[str, Any]) -> Built:
    beam = line(1.0, [Hold(0.0, fixed=True), Hold(1.0, 1 / g["k_tip"])], spread=[(0.0, 1.0, g["w"])])
    return beam, forces(R_spring=1)


def _rigid(g: dict[str, Any]) -> Built:
    holds = [Hold(float(x), 1 / k) for x, k in zip(g["x"], g["k"], strict=True)]
    return line(5.0, holds, [(float(g["x_P"]), g["P"])], EI=1e9, per_unit=2), forces(R1=0, R2=1, R3=2)


def _taper(g: dict[str, Any]) -> Built:
    second = g["E_Pa"] * np.pi / 64 * np.array([g["d_base_m"], g["d_tip_m"]]) ** 4
    length = g["L_m"]
    beam = Beam(np.array([0.0, length]), second[None, :], np.zeros(1), ((length, g["P_N"]),), (Hold(0.0, fixed=True),))
    return beam, {"defl_tip": sag(length)}


def _cone(g: dict[str, Any]) -> Built:
    """A cone in 1500 slices, each slice's weight spread evenly; the last 1e-5 of the tip is left off."""
    x = np.linspace(0.0, g["L_m"], 1501)
    x[-1] *= 1 - 1e-5
    d = g["d_base_m"] * (1 - x / g["L_m"])
    EI = g["E_Pa"] * np.pi / 64 * np.stack([d[:-1], d[1:]], axis=1) ** 4
    per_length = g["weight_density_N_m3"] * np.pi / 12 * (d[:-1] ** 2 + d[:-1] * d[1:] + d[1:] ** 2)
    return Beam(x, EI, per_length, (), (Hold(0.0, fixed=True),)), {
        "M_base": moment(0, sign=-1),
        "defl_tip": sag(float(x[-1])),
    }


BUILDERS: dict[str, Callable[[dict[str, Any]], Built]] = {
    "simple_udl": _simple_udl,
    "simple_point_mid": _simple_point,
    "simple_point_any": _simple_point,
    "cantilever_udl": _cantilever,
    "cantilever_point_any": _cantilever,
    "cantilever_point_tip": _cantilever,
    "overhang_udl_full": _overhang(lambda end: (0.0, end)),
    "overhang_udl_on_overhang": _overhang(lambda end: (1.0, end)),
    "overhang_point_tip": _overhang(None),
    "overhang_udl_between_supports": _overhang(lambda end: (0.0, 1.0)),
    "double_overhang_udl": _double_overhang,
    "propped_udl": _propped,
    "propped_point_mid": _propped,
    "propped_point_any": _propped,
    "fixed_fixed_udl": _fixed_fixed,
    "fixed_fixed_point_mid": _fixed_fixed,
    "two_unequal_spans_udl": _two_unequal,
    "continuous": _continuous,
    "continuous_equal_reactions": _equal_reactions,
    "continuous_settlement": _settlement,
    "two_span_middle_spring": _middle_spring,
    "cantilever_udl_spring_tip": _tip_spring,
    "rigid_beam_on_springs": _rigid,
    "tapered_round_cantilever_tip_load": _taper,
    "cone_self_weight_horizontal": _cone,
} | dict.fromkeys(
    (
        "two_span_udl", "two_span_udl_one_loaded", "two_span_point_mid_one", "three_span_udl",
        "three_span_udl_ends_loaded", "three_span_udl_two_adjacent", "three_span_udl_mid_loaded", "four_span_udl",
    ),
    _continuous_unit,
)  # fmt: skip


def greatest(x: NDArray[np.float64], y: NDArray[np.float64], question: Question) -> float:
    """The value asked for from values y at places x: at one place, or the top of the parabola through the three
    highest neighbours within the stretch."""
    value = question.sign * y
    low, high = question.at
    inside = np.flatnonzero((x >= low - 1e-9) & (x <= high + 1e-9))
    if low == high:
        return float(value[int(np.argmin(np.abs(x - low)))])
    top = int(inside[np.argmax(value[inside])])
    if top in (inside[0], inside[-1]):
        return float(value[top])
    a, b, _ = np.polyfit(x[top - 1 : top + 2] - x[top], value[top - 1 : top + 2], 2)
    return float(value[top] - b * b / (4 * a)) if a < 0 else float(value[top])
