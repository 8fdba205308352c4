"""The samples in the legend, drawn with the same code as the drawing they explain."""

from __future__ import annotations

from collections.abc import Callable

from bolewright.drawings import units as u
from bolewright.drawings.callouts import draw_balloon
from bolewright.drawings.forces import CLEAR, IDLE, ForceScale, arrow_ring, draw_mark
from bolewright.drawings.hatch import hatch
from bolewright.drawings.ink import HEAVY, MEDIUM, THIN
from bolewright.drawings.panels import Key
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box
from bolewright.drawings.units import POUND_FORCE_N, Units

UP: Spot = (0.0, -1.0)
LEFTWARD: Spot = (-1.0, 0.0)


def round_force(scale: ForceScale, units: Units) -> float:
    """A round force whose arrow fits the legend."""
    unit = POUND_FORCE_N if units == "us" else 1000.0
    steps = [m * 10.0**e for e in range(-2, 6) for m in (1, 2, 5)]
    fitting = [s * unit for s in steps if scale.length(s * unit) <= 34]
    return fitting[-1] if fitting else steps[0] * unit


def arrow_key(scale: ForceScale, units: Units) -> list[Key]:
    """Force arrows: how large a round force is, and what the outline means."""
    newtons = round_force(scale, units)
    length = scale.length(newtons)

    def sample(sheet: Sheet, at: Spot) -> None:
        sheet.area(arrow_ring((at[0] + length / 2, at[1]), (1.0, 0.0), length), sheet.ink.ink, kind="key")

    def outline(sheet: Sheet, at: Spot) -> None:
        for long, fill in ((32.0, sheet.ink.paper), (25.0, sheet.ink.ink)):
            sheet.area(arrow_ring((at[0] + 16, at[1]), (1.0, 0.0), long), fill, sheet.ink.ink, THIN, kind="key")

    return [Key(sample, f"force of {u.force(newtons, units)}, by area"),
            Key(outline, "outline: high end of range")]  # fmt: skip


def mark_keys() -> list[Key]:
    """States of a support that carries nothing."""

    def idle(sheet: Sheet, at: Spot) -> None:
        draw_mark(sheet, (at[0], at[1] - 4), UP, IDLE, (at[0], at[1] - 4))

    def clear(sheet: Sheet, at: Spot) -> None:
        draw_mark(sheet, (at[0], at[1] - 2), UP, CLEAR, (at[0], at[1] - 6))

    return [Key(idle, "touches, carries nothing"), Key(clear, "not touching")]


def number_keys(actions: set[str]) -> list[Key]:
    """Numbered balloons, only those that occur."""
    keys = []
    if "cut" in actions:
        keys.append(Key(_cut_sample, "cut, in this order"))
    if "place" in actions:
        keys.append(Key(lambda sheet, at: draw_balloon(sheet, "1", at, "square", 7.6), "set in place"))
    if "remove" in actions:
        keys.append(Key(lambda sheet, at: draw_balloon(sheet, "1", at, "diamond", 6.2), "take away"))
    return keys


def _cut_sample(sheet: Sheet, at: Spot) -> None:
    sheet.line([(at[0] + 13, at[1] - 7), (at[0] + 13, at[1] + 7)], HEAVY)
    draw_balloon(sheet, "1", (at[0] - 2, at[1]), "circle", 7.6)


def _swatch(at: Spot) -> list[Spot]:
    x, y = at
    return [(x - 14, y - 5), (x + 14, y - 5), (x + 14, y + 5), (x - 14, y + 5)]


def far_key(words: str = "limb, far side") -> Key:
    """Limbs on the far side."""
    return Key(lambda sheet, at: sheet.area(_swatch(at), sheet.ink.wood_far, sheet.ink.quiet, THIN), words)


def state_keys(present: set[str], draw: Callable[[Sheet, Spot, float, str], None], order: tuple[str, ...]) -> list[Key]:
    """Marks of supports from above, only those that occur."""
    return [Key(_state_sample(draw, state), f"{state}, area shows force" if state == order[0] else state)
            for state in order if state in present]  # fmt: skip


def _state_sample(draw: Callable[[Sheet, Spot, float, str], None], state: str) -> Callable[[Sheet, Spot], None]:
    return lambda sheet, at: draw(sheet, at, 5.0, state)


def hollow_key() -> Key:
    """Hollow inside the stem."""

    def sample(sheet: Sheet, at: Spot) -> None:
        sheet.area(_swatch(at), sheet.ink.wood, sheet.ink.ink, MEDIUM)
        for dy in (-2, 2):
            sheet.line([(at[0] - 14, at[1] + dy), (at[0] + 14, at[1] + dy)], MEDIUM, dash="5 3")

    return Key(sample, "hollow, dashed")


def gone_key() -> Key:
    """What is no longer there."""

    def sample(sheet: Sheet, at: Spot) -> None:
        for dy in (-5, 5):
            sheet.line([(at[0] - 14, at[1] + dy), (at[0] + 14, at[1] + dy)], THIN * 1.5, sheet.ink.gone, "1.5 3")

    return Key(sample, "gone")


def now_key() -> Key:
    """What is cut off in this step."""

    def sample(sheet: Sheet, at: Spot) -> None:
        sheet.area(_swatch(at), sheet.ink.paper, sheet.ink.ink, HEAVY)
        strokes = hatch([_swatch(at)], 5.0, 45) + hatch([_swatch(at)], 5.0, -45)
        sheet.strokes(strokes, THIN, sheet.ink.ink)

    return Key(sample, "comes off in this step")


def protect_key() -> Key:
    """A thing to protect."""

    def sample(sheet: Sheet, at: Spot) -> None:
        strokes = hatch([_swatch(at)], 7.0, 60) + hatch([_swatch(at)], 7.0, -60)
        sheet.strokes(strokes, THIN, sheet.ink.faint)
        sheet.area(_swatch(at), "none", sheet.ink.ink, MEDIUM, "7 2 1.5 2")

    return Key(sample, "must not be hit")


def zone_key() -> Key:
    """Where people must be out."""

    def sample(sheet: Sheet, at: Spot) -> None:
        sheet.strokes(hatch([_swatch(at)], 6.0, 45), THIN, sheet.ink.stop)
        sheet.line([(at[0] - 14, at[1] - 5), (at[0] + 14, at[1] - 5)], HEAVY, sheet.ink.stop, "12 5")

    return Key(sample, "edge of the drop zones")


def post_key() -> Key:
    """A prop."""

    def sample(sheet: Sheet, at: Spot) -> None:
        sheet.rect(Box(at[0] - 3, at[1] - 7, at[0] + 3, at[1] + 7), sheet.ink.paper, sheet.ink.ink, MEDIUM)
        sheet.line([(at[0] - 9, at[1] + 7), (at[0] + 9, at[1] + 7)], HEAVY)

    return Key(sample, "prop on its footing")
