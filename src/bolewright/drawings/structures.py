"""Ground, buildings, things to protect, root plate, props and lines on the sheet."""

from __future__ import annotations

from collections.abc import Iterable

from bolewright.drawings.frame import View, ground_level
from bolewright.drawings.hatch import earth, hatch
from bolewright.drawings.ink import HEAVY, MEDIUM, THIN
from bolewright.drawings.shapes import between, disc_rims, hull, moved, pointed, scatter
from bolewright.drawings.svg import Sheet, Spot
from bolewright.planning.shapes import BuildingShape, Point, ProtectedShape, Scene, SupportShape

WALL, RAFTER = 0.16, 0.2  # thickness drawn for a cut wall and roof [m]: a drawing convention, not measured
LINES = ("tie-back", "lowering", "crane")
POSTS = ("prop", "crib", "chock")
POST_WIDTH = {"prop": 0.12, "crib": 0.6, "chock": 0.3}


def draw_ground(sheet: Sheet, view: View, scene: Scene, left: float, right: float) -> list[Spot]:
    """The ground line across the drawing, with the mark for earth; gives the line back."""
    height = ground_level(scene)
    inner = sorted(p[0] for p in scene.ground)
    ends = [(left - view.x0) / view.scale, (right - view.x0) / view.scale]
    xs = [ends[0], *(x for x in inner if ends[0] < x < ends[1]), ends[1]]
    profile = [view.at((x, 0.0, height(x))) for x in xs]
    sheet.strokes(earth(profile), THIN, sheet.ink.soil)
    sheet.line(profile, HEAVY, kind="ground")
    return profile


def building_lines(view: View, building: BuildingShape, ground: float) -> list[list[Spot]]:
    """The main lines of a building in elevation: walls and roof."""
    xs = [p[0] for p in building.eave_corners]
    eave = sum(p[2] for p in building.eave_corners) / len(building.eave_corners)
    x0, x1, inset = min(xs), max(xs), building.wall_inset
    walls = [[view.at((x, 0, ground)), view.at((x, 0, eave))] for x in (x0 + inset, x1 - inset)]
    return [*walls, roof_ring(view, building)]


def roof_ring(view: View, building: BuildingShape) -> list[Spot]:
    """The outline of the roof in elevation: a gable, a slope seen face on, or a flat slab."""
    xs = [p[0] for p in building.eave_corners]
    eave = sum(p[2] for p in building.eave_corners) / len(building.eave_corners)
    x0, x1 = min(xs), max(xs)
    if not building.ridge:
        return view.all_at([(x0, 0, eave - RAFTER), (x0, 0, eave), (x1, 0, eave), (x1, 0, eave - RAFTER)])
    ridge = sorted(building.ridge)
    return view.all_at([(x0, 0, eave), (ridge[0][0], 0, ridge[0][2]), (ridge[-1][0], 0, ridge[-1][2]), (x1, 0, eave)])


def draw_building(sheet: Sheet, view: View, building: BuildingShape, ground: float) -> None:
    """A building in elevation, its walls and roof hatched where they are cut."""
    ink = sheet.ink
    near, far, roof = building_lines(view, building, ground)
    sheet.area([near[0], near[1], far[1], far[0]], ink.building)
    sheet.area(roof, ink.roof if len(building.ridge) else ink.building, ink.ink, MEDIUM, kind="building")
    if building.ridge and abs(building.ridge[0][0] - building.ridge[-1][0]) > 1.0:
        _draw_courses(sheet, roof)
    elif building.ridge:
        _draw_rafters(sheet, roof, RAFTER * view.scale)
    else:
        sheet.strokes(hatch([roof], 5.0), THIN, ink.quiet)
    thick = WALL * view.scale
    for foot, top, inward in ((near[0], near[1], 1.0), (far[0], far[1], -1.0)):
        cut = [foot, top, (top[0] + inward * thick, top[1]), (foot[0] + inward * thick, foot[1])]
        sheet.area(cut, ink.paper, ink.ink, MEDIUM, kind="building")
        sheet.strokes(hatch([cut], 4.5), THIN, ink.quiet)


def _draw_courses(sheet: Sheet, roof: list[Spot]) -> None:
    """Level courses on a slope seen face on."""
    count = max(3, int((roof[0][1] - roof[1][1]) / 9))
    rows = [(between(roof[0], roof[1], k / count), between(roof[3], roof[2], k / count)) for k in range(1, count)]
    sheet.strokes(rows, THIN, sheet.ink.faint)


def _draw_rafters(sheet: Sheet, roof: list[Spot], thick: float) -> None:
    """A gable cut through: both rafters hatched, the ceiling a thin line."""
    ink = sheet.ink
    foot, ridge, other = roof[0], roof[1], roof[-1]
    sheet.area([foot, ridge, other], ink.building)
    for a in (foot, other):
        low = moved(a, pointed(a, other if a == foot else foot), thick * 1.6)
        cut = [a, ridge, (ridge[0], ridge[1] + thick * 1.15), low]
        sheet.area(cut, ink.paper, ink.ink, MEDIUM, kind="building")
        sheet.strokes(hatch([cut], 4.5, 45 if a == foot else -45), THIN, ink.quiet)
    sheet.line([foot, other], THIN, ink.quiet)


def draw_building_from_above(sheet: Sheet, view: View, building: BuildingShape) -> None:
    """Eaves, ridge and hips, the wall line dashed under the overhang."""
    ink = sheet.ink
    corners = view.all_at(building.eave_corners)
    sheet.area(corners, ink.building, ink.ink, HEAVY, kind="building")
    ridge = view.all_at(building.ridge)
    if len(ridge) == 2:
        sheet.line(ridge, MEDIUM, kind="building")
        for corner in corners:
            end = min(ridge, key=lambda r: (r[0] - corner[0]) ** 2 + (r[1] - corner[1]) ** 2)
            if abs(end[0] - corner[0]) > 4 and abs(end[1] - corner[1]) > 4:
                sheet.line([corner, end], THIN, ink.quiet)
    inset = building.wall_inset * view.scale
    if inset > 2:
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        x0, x1, y0, y1 = min(xs) + inset, max(xs) - inset, min(ys) + inset, max(ys) - inset
        sheet.area([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], "none", ink.quiet, THIN, "5 3")


def protected_ring(view: View, thing: ProtectedShape) -> list[Spot]:
    """The outline of a thing to protect."""
    if view.side == "top":
        return view.all_at(thing.corners)
    xs, base = [p[0] for p in thing.corners], min(p[2] for p in thing.corners)
    top = base + max(thing.height, 0.15)
    return view.all_at([(min(xs), 0, base), (max(xs), 0, base), (max(xs), 0, top), (min(xs), 0, top)])


def draw_protected(sheet: Sheet, view: View, thing: ProtectedShape) -> None:
    """A thing that must not be hit: dash-dot outline with a wide cross hatch."""
    ring = protected_ring(view, thing)
    strokes = hatch([ring], 9.0, 60) + hatch([ring], 9.0, -60)
    sheet.area(ring, sheet.ink.paper, opacity=0.6)
    sheet.strokes(strokes, THIN, sheet.ink.faint)
    sheet.area(ring, "none", sheet.ink.ink, MEDIUM, "7 2 1.5 2", kind="protected")


def plate_ring(view: View, plate: tuple[Point, float, float, Point]) -> list[Spot]:
    """The silhouette of the root plate, ragged as torn roots are."""
    centre, diameter, thickness, axis = plate
    middle = view.at(centre)
    ring = hull(view.all_at(disc_rims(centre, axis, diameter, thickness)))
    dense = [between(a, b, k / 6) for a, b in zip(ring, [*ring[1:], ring[0]], strict=True) for k in range(6)]
    spread = zip(dense, scatter(len(dense), 5), strict=True)
    return [moved(spot, pointed(middle, spot), 5.0 * (wobble - 0.5)) for spot, wobble in spread]


def draw_plate(sheet: Sheet, view: View, scene: Scene) -> None:
    """The root plate: ragged outline, soil stippled, broken roots at the rim."""
    if scene.plate is None:
        return
    ink = sheet.ink
    ring, middle = plate_ring(view, scene.plate), view.at(scene.plate[0])
    roots = [(spot, moved(spot, pointed(middle, spot), 5 + 12 * w))
             for spot, w in zip(ring[::9], scatter(len(ring[::9]), 2), strict=True)]  # fmt: skip
    sheet.strokes(roots, MEDIUM, ink.bark)
    sheet.area(ring, ink.plate, ink.ink, MEDIUM, kind="plate")
    sheet.strokes(_stipple(ring), MEDIUM, ink.soil)


def _stipple(ring: list[Spot]) -> list[tuple[Spot, Spot]]:
    """Small dashes spread over a shape."""
    rows = hatch([ring], 7.0, 12)
    dots = []
    for k, (a, b) in enumerate(rows):
        long = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
        d = pointed(a, b)
        for t in scatter(int(long / 13), 17 * k):
            start = moved(a, d, t * max(long - 3, 0.0))
            dots.append((start, moved(start, d, 1.6)))
    return dots


def draw_stump(sheet: Sheet, view: View, scene: Scene) -> list[Spot]:
    """The stump a snapped stem still hangs on, its top torn; gives its outline back, empty when there is none."""
    hinge = next((s for s in scene.supports if s.kind == "hinge"), None)
    if hinge is None or not scene.wood:
        return []
    x, _, top = hinge.point
    wide, ground = 0.55 * scene.wood[0].diameters[0], ground_level(scene)(x)
    torn = [(x + wide * (2 * t - 1), 0.0, top - 0.35 * wide * w)
            for t, w in zip((0.0, 0.25, 0.5, 0.75, 1.0), scatter(5, 3), strict=True)]  # fmt: skip
    ring = view.all_at([(x - 1.15 * wide, 0, ground), *torn, (x + 1.15 * wide, 0, ground)])
    sheet.area(ring, sheet.ink.wood, sheet.ink.ink, MEDIUM, kind="stump")
    return ring


def draw_posts(sheet: Sheet, view: View, supports: Iterable[SupportShape]) -> None:
    """Props, cribs and lines from the wood to where they stand or are tied."""
    ink = sheet.ink
    for support in supports:
        a, b = view.at(support.point), view.at(support.foot)
        if support.kind in LINES:
            sheet.line([a, b], MEDIUM, ink.ink, kind="line")
            sheet.circle(b, 4, ink.paper, ink.ink, MEDIUM)
        elif support.kind in POSTS and view.side == "side" and abs(a[1] - b[1]) > 3:
            half = POST_WIDTH[support.kind] / 2 * view.scale
            d = pointed(a, b)
            n = (-d[1], d[0])
            ring = [moved(a, n, half), moved(b, n, half), moved(b, n, -half), moved(a, n, -half)]
            sheet.area(ring, ink.paper, ink.ink, MEDIUM, kind="post")
            angle = 0 if support.kind == "crib" else 90
            sheet.strokes(hatch([ring], 6.0 if support.kind == "crib" else 3.5, angle), THIN, ink.quiet)
            sheet.line([(b[0] - half - 6, b[1]), (b[0] + half + 6, b[1])], HEAVY)
