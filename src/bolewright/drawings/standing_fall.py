"""Round the foot of a standing tree, north up: its crown, its fall circle and sectors, and what stands in them."""

from __future__ import annotations

import math
from collections.abc import Sequence

from bolewright.drawings import units as u
from bolewright.drawings.callouts import Callout, Words, put_callouts
from bolewright.drawings.hatch import hatch
from bolewright.drawings.ink import HEAVY, LARGE, MEDIUM, SMALL, THIN, inks
from bolewright.drawings.labels import Placer
from bolewright.drawings.shapes import moved
from bolewright.drawings.standing_section import towards
from bolewright.drawings.standing_words import POINTS, side
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box, wrapped
from bolewright.drawings.units import Units
from bolewright.planning.standing.rated import FallArea, TargetReach
from bolewright.planning.standing.results import StandResult

WIDTH, HEIGHT = 760.0, 760.0
CENTRE: Spot = (WIDTH / 2, HEIGHT / 2 + 18)
LARGEST = 300.0  # sheet units for the farthest ring shown
STEP = 3.0  # degrees along an arc
OUT = 12.0  # of the stroke at a sector's middle
NEARLY = 15.0  # degrees within which two sectors are drawn as one


def fall_circle(result: StandResult, title: str = "", units: Units = "us", night: bool = False) -> str:
    """Crown, fall circle, likely sectors and targets as SVG."""
    name = f"Where it could fall{': ' + title if title else ''}"
    sheet = Sheet(WIDTH, HEIGHT, inks(night), name, _description(result, units))
    scale = LARGEST / max(result.fall.look_m, 1.0)
    placer = Placer(Box(14, 62, WIDTH - 14, HEIGHT - 50))
    sectors = named_sectors(result.fall)
    for middle, _ in sectors:
        _draw_sector(sheet, middle, result.fall.half_angle_deg, result.fall.radius_m * scale)
        placer.discourage([CENTRE, moved(CENTRE, towards(middle), result.fall.radius_m * scale)], 4, 1.0)
    sheet.circle(CENTRE, result.fall.look_m * scale, "none", sheet.ink.quiet, THIN, dash="2 5", kind="look")
    sheet.circle(CENTRE, result.fall.radius_m * scale, "none", sheet.ink.ink, HEAVY, kind="fall")
    sheet.circle(CENTRE, result.fall.crown_radius_m * scale, "none", sheet.ink.bark, MEDIUM, dash="7 4", kind="crown")
    sheet.circle(CENTRE, 5.0, sheet.ink.wood, sheet.ink.ink, MEDIUM, kind="foot")
    _draw_points(sheet, placer, result.fall.look_m * scale)
    for radius in (result.fall.look_m, result.fall.radius_m, result.fall.crown_radius_m):
        placer.discourage(_arc(0.0, 360.0, radius * scale), 4, 2.0)
    sides = _sectors(sectors, result.fall.radius_m * scale)
    put_callouts(sheet, placer, [*sides, *_names(result, scale, units), *_targets(result, scale, units)])
    _draw_targets(sheet, result, scale)
    _draw_frame(sheet, name, scale, units)
    return sheet.written()


def named_sectors(fall: FallArea) -> list[tuple[float, str]]:
    """Middle [deg] and names of the sectors; those that all but cover each other are one, with both names."""
    kept: list[tuple[float, str]] = []
    for degrees, name in zip(fall.sectors_deg, fall.sector_names, strict=True):
        near = next((n for n, (other, _) in enumerate(kept) if _between(degrees, other) <= NEARLY), None)
        if near is None:
            kept.append((degrees, name))
        else:
            kept[near] = kept[near][0], f"{kept[near][1]}, {name}"
    return kept


def _between(one: float, other: float) -> float:
    return abs((one - other + 180.0) % 360.0 - 180.0)


def _sectors(sectors: Sequence[tuple[float, str]], radius: float) -> list[Callout]:
    """Every sector by its side and why, outside its rim."""
    return [
        Callout((Words(side(degrees), SMALL, bold=True), Words(name, SMALL)),
                (moved(CENTRE, towards(degrees), radius + OUT),), towards(degrees))
        for degrees, name in sectors
    ]  # fmt: skip


def _draw_points(sheet: Sheet, placer: Placer, radius: float) -> None:
    """The points of the compass round the outermost ring, with a tick each."""
    for n, name in enumerate(POINTS):
        way = towards(45.0 * n)
        sheet.line([moved(CENTRE, way, radius - 5), moved(CENTRE, way, radius + 5)], MEDIUM, kind="point")
        x, y = moved(CENTRE, way, radius + 17)
        sheet.text(x, y + 4, name, SMALL, "middle", bold=True, colour=sheet.ink.quiet, kind="compass", halo=True)
        placer.block(Box(x - 12, y - 9, x + 12, y + 7))


def _arc(start: float, end: float, radius: float) -> list[Spot]:
    count = max(2, math.ceil((end - start) / STEP))
    return [moved(CENTRE, towards(start + (end - start) * k / count), radius) for k in range(count + 1)]


def _draw_sector(sheet: Sheet, middle: float, half: float, radius: float) -> None:
    ring = [CENTRE, *_arc(middle - half, middle + half, radius)]
    sheet.area(ring, sheet.ink.panel, sheet.ink.ink, THIN, kind="sector")
    sheet.strokes(hatch([ring], 12.0, -middle), THIN, sheet.ink.faint, kind="sector hatch")
    way = towards(middle)
    sheet.line([moved(CENTRE, way, radius), moved(CENTRE, way, radius + OUT)], HEAVY, kind="sector middle")


def _names(result: StandResult, scale: float, units: Units) -> list[Callout]:
    fall = result.fall
    rings = (
        ("crown", fall.crown_radius_m, 205.0),
        ("fall circle", fall.radius_m, 325.0),
        ("look this far", fall.look_m, 215.0),
    )
    return [
        Callout((Words(f"{name}, {u.length(radius, units)}", SMALL, italic=True),),
                (moved(CENTRE, towards(degrees), radius * scale),))
        for name, radius, degrees in rings
    ]  # fmt: skip


def _targets(result: StandResult, scale: float, units: Units) -> list[Callout]:
    """The words of every target."""
    return [Callout(_target_words(target, units), (_spot(target, scale),)) for target in result.targets]


def _spot(target: TargetReach, scale: float) -> Spot:
    """Where a target's mark is; at the edge of the sheet when it lies beyond."""
    return moved(CENTRE, towards(target.towards_deg), min(target.distance_m * scale, LARGEST + 24))


def _draw_targets(sheet: Sheet, result: StandResult, scale: float) -> None:
    """A mark for every target, over the lines that lead to it."""
    for target in result.targets:
        x, y = _spot(target, scale)
        inside = target.reach in ("under the crown", "in the sector", "in the circle")
        fill = sheet.ink.ink if inside else sheet.ink.paper
        sheet.rect(Box(x - 5, y - 5, x + 5, y + 5), fill, sheet.ink.ink, MEDIUM, kind="target")


def _target_words(target: TargetReach, units: Units) -> tuple[Words, ...]:
    people = f"people: {target.occupancy}" if target.occupancy != "not known" else "people: not known"
    return (
        Words(target.id, SMALL, bold=True),
        Words(f"{u.length(target.distance_m, units)}, {target.reach}", SMALL),
        Words(people, SMALL),
    )


def _draw_frame(sheet: Sheet, name: str, scale: float, units: Units) -> None:
    """Title, north arrow, scale bar and border."""
    lines = wrapped(name, LARGE, WIDTH - 90, bold=True)
    shown = lines[0] + ("…" if len(lines) > 1 else "")
    sheet.text(16, 30, shown, LARGE, bold=True)
    sheet.text(
        16, 50, "hatched: sectors it most likely falls in; filled square: a target within reach", SMALL, italic=True
    )
    x, y = WIDTH - 34, 52.0
    sheet.line([(x, y + 26), (x, y)], MEDIUM)
    sheet.area([(x, y - 8), (x - 6, y + 4), (x + 6, y + 4)], sheet.ink.ink, None)
    sheet.text(x, y - 14, "N", LARGE, "middle", bold=True)
    length = 20.0 * u.FOOT_M if units == "us" else 5.0
    y = HEIGHT - 22
    sheet.line([(16, y - 5), (16, y), (16 + length * scale, y), (16 + length * scale, y - 5)], MEDIUM)
    sheet.text(24 + length * scale, y + 2, u.length(length, units), SMALL, mono=True)
    sheet.rect(Box(2, 2, WIDTH - 2, HEIGHT - 2), "none", sheet.ink.ink, MEDIUM)


def _description(result: StandResult, units: Units) -> str:
    told = "; ".join(f"{t.id} {u.length(t.distance_m, units)} off, {t.reach}" for t in result.targets)
    return f"Fall circle {u.length(result.fall.radius_m, units)}. {told or 'No targets given'}."
