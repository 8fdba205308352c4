"""The face of one cut as a clock, looking from butt to tip: what is pressed together, where to start, how deep."""

from __future__ import annotations

import math
from collections.abc import Sequence

from bolewright.core.base.range import Range
from bolewright.drawings import units as u
from bolewright.drawings.callouts import draw_balloon
from bolewright.drawings.hatch import hatch
from bolewright.drawings.ink import HEAVY, LARGE, MEDIUM, SMALL, TEXT, THIN, inks
from bolewright.drawings.shapes import moved, scatter
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box, wrapped
from bolewright.drawings.units import Units
from bolewright.planning.results import Bind

WIDTH, HEIGHT = 720.0, 420.0
CENTRE: Spot = (196.0, 208.0)
RADIUS = 128.0
FOOT_POUND_J = u.POUND_FORCE_N * u.FOOT_M


def section_view(diameter: float, shell: Sequence[tuple[float, float]] = (), bind: Bind | None = None,
                 hollow: Sequence[tuple[float, float]] = (), title: str = "", units: Units = "us",
                 night: bool = False) -> str:  # fmt: skip
    """The cut face as SVG. `shell` is (clock, sound depth [m]) pairs; `hollow` instead is a ring of points (towards
    3 o'clock, towards 12 o'clock) [m] from the centre."""
    sheet = Sheet(WIDTH, HEIGHT, inks(night), title or "Cut face", _description(bind, units))
    radius = diameter / 2
    ring = _hollow_ring(radius, shell, hollow)
    _draw_wood(sheet, ring)
    if bind is not None:
        _draw_compression(sheet, ring, bind)
        _draw_start(sheet, radius, bind, units)
        _draw_finish(sheet, bind)
    _draw_clock(sheet, bind)
    _draw_words(sheet, diameter, bind, title, units, bool(ring))
    sheet.rect(Box(2, 2, WIDTH - 2, HEIGHT - 2), "none", sheet.ink.ink, MEDIUM)
    return sheet.written()


def towards(clock: float) -> Spot:
    """Sheet direction of a clock position: 12 up, 3 right."""
    angle = clock / 12 * math.tau
    return math.sin(angle), -math.cos(angle)


def _hollow_ring(
    radius: float, shell: Sequence[tuple[float, float]], hollow: Sequence[tuple[float, float]]
) -> list[Spot]:
    """The edge of the hollow on the sheet."""
    scale = RADIUS / radius
    if hollow:
        return [(CENTRE[0] + right * scale, CENTRE[1] - up * scale) for right, up in hollow]
    if not shell or all(depth >= radius for _, depth in shell):
        return []
    hours = [k / 10 for k in range(120)]
    return [moved(CENTRE, towards(h), max(radius - _depth_at(shell, h), 0.0) * scale) for h in hours]


def _depth_at(shell: Sequence[tuple[float, float]], hour: float) -> float:
    """Sound depth at a clock position, straight between readings."""
    readings = sorted((clock % 12, depth) for clock, depth in shell)
    if len(readings) == 1:
        return readings[0][1]
    around = [(readings[-1][0] - 12, readings[-1][1]), *readings, (readings[0][0] + 12, readings[0][1])]
    for (ha, da), (hb, db) in zip(around, around[1:], strict=False):
        if ha <= hour <= hb:
            return da + (db - da) * (hour - ha) / (hb - ha) if hb > ha else da
    return readings[0][1]


def _circle(radius: float) -> list[Spot]:
    return [moved(CENTRE, towards(k / 10), radius) for k in range(120)]


def _draw_wood(sheet: Sheet, ring: list[Spot]) -> None:
    """Bark, wood with a hint of growth rings, and the hollow."""
    ink = sheet.ink
    sheet.circle(CENTRE, RADIUS, ink.wood_shade, ink.ink, HEAVY)
    sheet.circle(CENTRE, RADIUS - 7, ink.wood, ink.bark, THIN)
    for k, wobble in enumerate(scatter(9, 3)):
        sheet.circle(CENTRE, (k + 0.6 + 0.5 * wobble) / 10.5 * RADIUS, "none", ink.wood_shade, THIN)
    sheet.area(ring, ink.paper, ink.ink, MEDIUM, "5 3", kind="hollow")


def _draw_compression(sheet: Sheet, ring: list[Spot], bind: Bind) -> None:
    """The side in compression hatched, the hollow left out."""
    if bind.kind == "no bind":
        return
    first = bind.compression_clock - 3
    half = [moved(CENTRE, towards(first + 6 * k / 60), RADIUS - 7) for k in range(61)]
    inside = [half, _clipped(ring, towards(bind.compression_clock))] if ring else [half]
    sheet.strokes(hatch(inside, 7.0, 30), MEDIUM, sheet.ink.ink, kind="compression")
    sheet.line([half[0], half[-1]], THIN, dash="8 3 2 3")


def _clipped(ring: Sequence[Spot], direction: Spot) -> list[Spot]:
    """The part of a ring on one side of the centre."""
    kept: list[Spot] = []
    sides = [(x - CENTRE[0]) * direction[0] + (y - CENTRE[1]) * direction[1] for x, y in ring]
    for k, (a, sa) in enumerate(zip(ring, sides, strict=True)):
        b, sb = ring[(k + 1) % len(ring)], sides[(k + 1) % len(ring)]
        kept += [a] if sa >= 0 else []
        if (sa >= 0) != (sb >= 0):
            t = sa / (sa - sb)
            kept.append((a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t))
    return kept


def _draw_start(sheet: Sheet, radius: float, bind: Bind, units: Units) -> None:
    """The first cut: its depth as a heavy line across, an arrow from outside."""
    d = towards(bind.start_clock)
    n = (-d[1], d[0])
    depth = min(bind.start_depth_m / radius, 1.0) * RADIUS
    middle = moved(CENTRE, d, RADIUS - depth)
    half = math.sqrt(max(RADIUS**2 - (RADIUS - depth) ** 2, 0.0))
    sheet.line([moved(middle, n, half), moved(middle, n, -half)], HEAVY + 3, sheet.ink.paper)
    sheet.line([moved(middle, n, half), moved(middle, n, -half)], HEAVY, kind="kerf")
    _draw_hand(sheet, d, middle, "1")


def _draw_finish(sheet: Sheet, bind: Bind) -> None:
    d = towards(bind.finish_clock)
    _draw_hand(sheet, d, moved(CENTRE, d, RADIUS - 30), "2")


def _draw_hand(sheet: Sheet, d: Spot, tip: Spot, number: str) -> None:
    """An arrow from outside the bark inward, with its number."""
    n = (-d[1], d[0])
    start = moved(CENTRE, d, RADIUS + 34)
    neck = moved(tip, d, 13)
    sheet.line([start, neck], 5.4, sheet.ink.paper)
    sheet.line([start, neck], HEAVY)
    sheet.area([tip, moved(neck, n, 6.5), moved(neck, n, -6.5)], sheet.ink.ink, sheet.ink.paper, MEDIUM, kind="hand")
    draw_balloon(sheet, number, moved(CENTRE, d, RADIUS + 44), "circle", 11)


def _draw_clock(sheet: Sheet, bind: Bind | None) -> None:
    """Ticks for the hours, numbers at the quarters, set off to one side where a hand stands."""
    hands = (bind.start_clock, bind.finish_clock) if bind else ()
    for hour in range(12):
        d = towards(hour)
        long = 10 if hour % 3 == 0 else 5
        sheet.line([moved(CENTRE, d, RADIUS + 2), moved(CENTRE, d, RADIUS + 2 + long)], MEDIUM)
        if hour % 3 == 0:
            crowded = any(min((hour - h) % 12, (h - hour) % 12) < 0.9 for h in hands)
            at = moved(moved(CENTRE, d, RADIUS + 22), (-d[1], d[0]), -17 if crowded else 0)
            sheet.text(at[0], at[1] + 5, str(hour or 12), TEXT, "middle", kind="clock")


def _draw_words(sheet: Sheet, diameter: float, bind: Bind | None, title: str, units: Units, hollow: bool) -> None:
    """What the picture shows, in words beside it."""
    x, width, y = 398.0, WIDTH - 398.0 - 16, 38.0
    for line in wrapped(title or "Cut face", LARGE, width, bold=True)[:2]:
        sheet.text(x, y, line, LARGE, bold=True)
        y += LARGE * 1.3
    sheet.text(x, y, f"looking from butt to tip, {u.size(diameter, units)} across", SMALL, italic=True)
    rows = _rows(bind, units) if bind else [("", "The bind is not known.")]
    rows += [("hollow", "dashed line: edge of sound wood")] if hollow else []
    y += 28
    for head, words in rows:
        colour = sheet.ink.stop if head == "SPRING POLE" else None
        sheet.text(x, y, head, SMALL, bold=True, colour=colour)
        for line in wrapped(words, SMALL, width - 96):
            sheet.text(x + 96, y, line, SMALL, colour=colour)
            y += SMALL * 1.3
        y += 6


def _rows(bind: Bind, units: Units) -> list[tuple[str, str]]:
    kerf = "closes" if bind.kerf_mm.likely < 0 else "opens"
    rows = [
        (bind.kind, bind.words),
        ("hatched", f"pressed together, {u.clock(bind.compression_clock)} side"),
        ("1 start", f"at {u.clock(bind.start_clock)}, at most {u.size(bind.start_depth_m, units)} deep (heavy line)"),
        ("2 finish", f"from {u.clock(bind.finish_clock)}"),
        ("kerf", f"{kerf} {_kerf(bind.kerf_mm, units)} when severed"),
        ("let go", f"about {_energy(bind.release_J, units)} of stored energy"),
    ]
    rows += [("SPRING POLE", "It will whip. Do not stand in its plane.")] if bind.spring_pole else []
    return rows


def _kerf(kerf: Range, units: Units) -> str:
    ends = sorted((abs(kerf.low), abs(kerf.high)))
    low, likely, high = (u.small(v / 1000, units) for v in (ends[0], abs(kerf.likely), ends[1]))
    return likely if low == high else f"{likely} ({low.rsplit(' ', 1)[0]} to {high.rsplit(' ', 1)[0]})"


def _energy(joules: Range, units: Units) -> str:
    unit, size = ("ft-lb", FOOT_POUND_J) if units == "us" else ("J", 1.0)
    low, likely, high = (v / size for v in (joules.low, joules.likely, joules.high))
    step = 1.0 if likely >= 10 else 0.1
    return f"{u.thousands(likely, step)} {unit} ({u.thousands(low, step)} to {u.thousands(high, step)})"


def _description(bind: Bind | None, units: Units) -> str:
    return ". ".join(f"{head}: {words}" for head, words in _rows(bind, units)) if bind else "The bind is not known."
