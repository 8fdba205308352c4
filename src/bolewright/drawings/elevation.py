"""Side elevation of the job: what holds the tree up, and the numbered cuts."""

from __future__ import annotations

import math

from bolewright.drawings import units as u
from bolewright.drawings.callouts import Callout, Words, put_callouts
from bolewright.drawings.cutmarks import draw_cut_numbers
from bolewright.drawings.forces import ForceScale, as_found, draw_supports, scale_for
from bolewright.drawings.ink import SMALL, TEXT, inks
from bolewright.drawings.labels import Placer
from bolewright.drawings.legend import (
    arrow_key,
    far_key,
    hollow_key,
    mark_keys,
    number_keys,
    post_key,
    protect_key,
)
from bolewright.drawings.panels import (
    MARGIN,
    RANGES_NOTE,
    ROW,
    Key,
    bearing_note,
    draw_border,
    draw_dead_end,
    draw_dimension,
    draw_divider,
    draw_legend,
    draw_steps,
    draw_title,
    legend_height,
)
from bolewright.drawings.stage import Stage, building_callouts, draw_stage
from bolewright.drawings.svg import Sheet
from bolewright.drawings.type_widths import Box, shortened, text_box
from bolewright.drawings.units import Units
from bolewright.drawings.wood import FAR_SIDE
from bolewright.planning.results import HoldResult, Plan
from bolewright.planning.shapes import Scene, SupportShape

WIDTH, HEIGHT = 1200.0, 860.0
LONGEST_ARROW = 78.0
FROM_RIGHT = "Side elevation, seen from the right"

MEANINGS = (
    ("prop", "carries load"),
    ("counterweight", "taking it off loads the building more"),
    ("ballast", "taking it off relieves the building"),
    ("idle", "taking it off changes little"),
)


def elevation(scene: Scene, hold: HoldResult | None = None, plan: Plan | None = None, units: Units = "us",
              night: bool = False) -> str:  # fmt: skip
    """The side elevation as SVG: forces as found where `hold` is given, numbered cuts where `plan` is given."""
    sheet = Sheet(WIDTH, HEIGHT, inks(night), f"{scene.title}: side elevation", _description(hold, plan))
    scale = scale_for(hold, plan, LONGEST_ARROW)
    keys = _keys(scene, hold, plan, scale, units)
    rows = math.ceil(len(plan.steps) / 2) if plan else 0
    deep = max(186.0, legend_height(keys[: math.ceil(len(keys) / (1 if plan else 2))]), rows * ROW + 14)
    band = Box(MARGIN, HEIGHT - MARGIN - deep, WIDTH - MARGIN, HEIGHT - MARGIN)
    area = Box(MARGIN + 4, MARGIN + 4, WIDTH - MARGIN - 4, band.y0 - 4)
    inner = Box(area.x0 + 70, area.y0 + 92, area.x1 - 70, area.y1 - (150 if hold else 96))
    stage = draw_stage(sheet, scene, area, inner, {}, _posts(scene, hold, plan))
    lost = _label_all(sheet, stage, scene, hold, plan, scale, units)
    draw_border(sheet, band)
    _panels(sheet, band, stage, scene, hold, plan, keys, units, lost)
    return sheet.written()


def _posts(scene: Scene, hold: HoldResult | None, plan: Plan | None) -> list[SupportShape]:
    """Props and lines that stand now, and those the plan sets."""
    if plan is None and hold is not None:
        standing = {s.id for s in hold.supports}
        return [s for s in scene.supports if s.id in standing]
    known = {s.id for s in scene.supports}
    added = [SupportShape(p.id, p.kind, p.member, p.point, p.foot, False) for p in (plan.places if plan else ())]
    return [*scene.supports, *(s for s in added if s.id not in known)]


def _label_all(sheet: Sheet, stage: Stage, scene: Scene, hold: HoldResult | None, plan: Plan | None,
               scale: ForceScale, units: Units) -> int:  # fmt: skip
    """Forces, cuts and names; gives back how many found no room."""
    placer, view = stage.placer, stage.view
    _headline(sheet, placer, hold, units)
    xs = [p[0] for run in scene.wood for p in run.points]
    if xs:
        ends = [view.at((x, 0.0, 0.0)) for x in (min(xs), max(xs))]
        draw_dimension(
            sheet, placer, ends[0], ends[1], f"{u.length(max(xs) - min(xs), units)} over all", placer.area.y1 - 16
        )
    planned = {place.id for place in plan.places} if plan else set()
    shown = [s for s in as_found(scene, hold) if s.id not in planned]
    forces = draw_supports(sheet, view, placer, shown, scale, units, full=plan is None)
    lost = draw_cut_numbers(sheet, view, scene, placer, plan.steps) if plan else 0
    buildings, things = building_callouts(view, scene, units)
    labels = [*forces, *buildings, *things]
    labels += _roles(stage, scene, hold) if plan is None else []
    return lost + put_callouts(sheet, placer, labels)


def _headline(sheet: Sheet, placer: Placer, hold: HoldResult | None, units: Units) -> None:
    """The answer in one line, top left."""
    if hold is None:
        return
    x, y = placer.area.x0 + 14, placer.area.y0 + 26
    held = hold.status == "held"
    whole = "tree with root plate" if hold.plate else "tree"
    sheet.text(x, y, f"{_when(hold)}: {hold.status}", 19, bold=True, colour=None if held else sheet.ink.stop)
    placer.block(text_box(x, y, f"{_when(hold)}: {hold.status}", 19, bold=True), 4)
    for words in (
        f"{whole} {u.force_range(hold.total_N, units)}",
        f"on the building {u.force_range(hold.building_N, units)}",
    ):
        y += TEXT * 1.4
        sheet.text(x, y, words, SMALL, mono=True)
        placer.block(text_box(x, y, words, SMALL, mono=True), 4)


def _roles(stage: Stage, scene: Scene, hold: HoldResult | None) -> list[Callout]:
    """Names of the pieces, with what each does for the tree where that is known."""
    roles = {role.id: role.role for role in hold.pieces} if hold else {}
    callouts = []
    for run in scene.wood:
        middle = stage.view.at(run.points[len(run.points) // 2])
        words = f"{run.piece}: {roles[run.piece]}" if run.piece in roles else run.piece
        callouts.append(Callout((Words(words, SMALL),), (middle,), reach=160))
    return callouts


def _keys(scene: Scene, hold: HoldResult | None, plan: Plan | None, scale: ForceScale, units: Units) -> list[Key]:
    """The legend: only what this drawing shows."""
    keys = [*arrow_key(scale, units), *mark_keys()] if hold and scale.biggest > 0 else []
    keys += number_keys({step.action for step in plan.steps}) if plan else []
    away = [r for r in scene.wood if r.points[-1][1] - r.points[0][1] > FAR_SIDE * math.dist(r.points[0], r.points[-1])]
    keys += [far_key()] if away else []
    keys += [hollow_key()] if any(d > 0 for run in scene.wood for d in run.hollow_diameters) else []
    keys += [post_key()] if any(s.kind == "prop" for s in _posts(scene, hold, plan)) else []
    keys += [protect_key()] if scene.protected else []
    return keys


def _panels(sheet: Sheet, band: Box, stage: Stage, scene: Scene, hold: HoldResult | None, plan: Plan | None,
            keys: list[Key], units: Units, lost: int) -> None:  # fmt: skip
    title = Box(band.x1 - 352, band.y0, band.x1, band.y1)
    notes = [f"{lost} labels left off for want of room: see the tables."] if lost else []
    notes += [RANGES_NOTE, bearing_note(scene.bearing_deg), "Buildings from outside; twigs are a hint."]
    draw_title(sheet, title, scene.title, FROM_RIGHT, notes, stage.view.scale, units)
    draw_divider(sheet, band, title.x0)
    if plan is None:
        _draw_meanings(sheet, Box(band.x0 + 440, band.y0, title.x0, band.y1), hold, units)
        half = math.ceil(len(keys) / 2)
        for k, part in enumerate((keys[:half], keys[half:])):
            draw_legend(sheet, Box(band.x0 + 220 * k, band.y0, band.x0 + 220 * (k + 1), band.y1), part)
        draw_divider(sheet, band, band.x0 + 440)
        return
    legend = Box(band.x0, band.y0, band.x0 + 220, band.y1)
    draw_legend(sheet, legend, keys)
    draw_divider(sheet, band, legend.x1)
    middle = Box(legend.x1, band.y0, title.x0, band.y1)
    if plan.steps:
        draw_steps(sheet, middle, plan.steps, units)
    else:
        draw_dead_end(sheet, middle, plan)


def _draw_meanings(sheet: Sheet, box: Box, hold: HoldResult | None, units: Units) -> None:
    """What the words at the pieces mean, and how far the tree is from moving."""
    if hold is None:
        return
    present = {role.role for role in hold.pieces}
    rows = [(word, meaning) for word, meaning in MEANINGS if word in present]
    rows += _margin_rows(hold, units)
    for k, (word, meaning) in enumerate(rows):
        y = box.y0 + 20 + k * ROW
        sheet.text(box.x0 + 12, y, word, SMALL, bold=True)
        sheet.text(box.x0 + 126, y, shortened(meaning, SMALL, box.x1 - box.x0 - 132), SMALL)


def _margin_rows(hold: HoldResult, units: Units) -> list[tuple[str, str]]:
    """How far the tree is from tipping, rolling and sliding; what the status says goes before any margin."""
    if hold.margins is None:
        return []
    m = hold.margins
    rolling = "it can roll" if hold.status == "can roll" else _to_spare(m.rolling_m, m.rolling_towards, units)
    rows = [("tipping", _to_spare(m.tipping_m, m.tipping_towards, units)), ("rolling", rolling)]
    if hold.status == "can slide":
        rows.append(("sliding", "it can slide"))
    elif m.friction_needed is not None and math.isfinite(m.friction_needed):
        rows.append(("sliding", f"needs friction {m.friction_needed:.2f}, low value {m.friction_low:.2f}"))
    return rows


def _to_spare(metres: float, towards: str, units: Units) -> str:
    if not math.isfinite(metres):
        return "no margin worked out"
    return f"{u.length(metres, units)} to spare" + (f", {towards}" if towards else "")


def _description(hold: HoldResult | None, plan: Plan | None) -> str:
    """The drawing in words, for those who cannot see it."""
    parts = ["Side elevation of a tree on a building."]
    if hold:
        carrying = [s.id for s in hold.supports if s.state == "carries"]
        parts.append(f"{_when(hold)}: {hold.status}. Carried by: {', '.join(carrying) or 'nothing'}.")
    if plan:
        parts.append(f"{len(plan.steps)} numbered steps.")
    return " ".join(parts)


def _when(hold: HoldResult) -> str:
    return "As it stands now" if hold.gone else "As found"
