"""From the job frame to the sheet: a view from the right side, or from above, at one true scale."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from bolewright.drawings.svg import Spot
from bolewright.drawings.type_widths import Box
from bolewright.drawings.units import FOOT_M, Units
from bolewright.planning.shapes import Point, Scene

Side = Literal["side", "top"]


@dataclass(frozen=True)
class View:
    """Where the job frame lies on the sheet: `scale` in sheet units per metre."""

    side: Side
    scale: float
    x0: float  # sheet place of x = 0
    y0: float  # sheet place of z = 0 (side) or y = 0 (top)

    def at(self, point: Point) -> Spot:
        """Sheet place of a point."""
        up = point[2] if self.side == "side" else point[1]
        return self.x0 + point[0] * self.scale, self.y0 - up * self.scale

    def along(self, direction: Point) -> Spot:
        """Sheet direction of a direction, foreshortened, not scaled."""
        return direction[0], -(direction[2] if self.side == "side" else direction[1])

    def towards_viewer(self, point: Point) -> float:
        """How near to the viewer a point is: seen from the right side (-y), or from above."""
        return -point[1] if self.side == "side" else point[2]

    def all_at(self, points: Iterable[Point]) -> list[Spot]:
        """Sheet places of points."""
        return [self.at(point) for point in points]


def fitted(side: Side, points: Sequence[Point], box: Box, largest: float = 120.0) -> View:
    """The view that shows all points inside a box of the sheet, centred across and standing on its floor."""
    index = 2 if side == "side" else 1
    xs, ys = [p[0] for p in points] or [0.0], [p[index] for p in points] or [0.0]
    wide, high = max(max(xs) - min(xs), 0.5), max(max(ys) - min(ys), 0.5)
    scale = min((box.x1 - box.x0) / wide, (box.y1 - box.y0) / high, largest)
    x0 = (box.x0 + box.x1) / 2 - (min(xs) + max(xs)) / 2 * scale
    y0 = box.y1 + min(ys) * scale if side == "side" else (box.y0 + box.y1) / 2 + (min(ys) + max(ys)) / 2 * scale
    return View(side, scale, x0, y0)


def scene_points(scene: Scene, drop_zones: Iterable[Sequence[Point]] = ()) -> list[Point]:
    """The points a drawing must show."""
    points = [p for run in scene.wood for p in run.points]
    points += [p for b in scene.buildings for p in (*b.eave_corners, *b.ridge)]
    points += [p for thing in scene.protected for p in thing.corners]
    points += [(x, y, thing.height) for thing in scene.protected for x, y, _ in thing.corners]
    points += [p for s in scene.supports for p in (s.point, s.foot)]
    points += [p for zone in drop_zones for p in zone]
    if scene.plate:
        (x, y, z), diameter, _, _ = scene.plate
        r = diameter / 2
        points += [(x - r, y - r, z - r), (x + r, y + r, z + r)]
    return points


def ground_level(scene: Scene) -> Callable[[float], float]:
    """Height of the ground line at a distance forward, level beyond its ends."""
    profile = sorted((p[0], p[2]) for p in scene.ground) or [(0.0, 0.0)]

    def height(x: float) -> float:
        if x <= profile[0][0]:
            return profile[0][1]
        for (xa, za), (xb, zb) in zip(profile, profile[1:], strict=False):
            if x <= xb:
                return za + (zb - za) * (x - xa) / (xb - xa) if xb > xa else zb
        return profile[-1][1]

    return height


def scale_steps(scale: float, units: Units, room: float) -> list[tuple[float, str]]:
    """Marks of a scale bar no longer than the room: distance in sheet units and its number."""
    unit = FOOT_M if units == "us" else 1.0
    for top in (100, 80, 60, 40, 20, 10, 8, 4, 2, 1):
        if top * unit * scale <= room:
            return [(top * k / 4 * unit * scale, f"{top * k / 4:g}") for k in range(5)]
    return [(0.0, "0")]
