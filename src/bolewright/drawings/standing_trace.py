"""A drilling-resistance trace: depth against resistance, what was found sound, what decayed, and how sure that is."""

from __future__ import annotations

from bolewright.core.base.range import Range
from bolewright.drawings import units as u
from bolewright.drawings.hatch import hatch
from bolewright.drawings.ink import HEAVY, LARGE, MEDIUM, SMALL, THIN, inks
from bolewright.drawings.standing_words import compass
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box, text_width, wrapped
from bolewright.drawings.units import INCH_M, Units
from bolewright.planning.both import in_one
from bolewright.planning.standing.looked import ReadTest, TraceRead

WIDTH, HEIGHT = 800.0, 400.0
FIELD = Box(64, 92, WIDTH - 132, HEIGHT - 92)
ROOM = 1.06  # of the highest reading


def resistance_trace(test: ReadTest, units: Units = "us", night: bool = False) -> str:
    """The trace of a test as SVG. The test has one."""
    trace = test.trace
    assert trace is not None
    title = f"Drilling-resistance trace: {test.id}"
    sheet = Sheet(WIDTH, HEIGHT, inks(night), title, f"{_place(test, units)}. {in_one(test.words, units)}")
    sheet.text(16, 30, wrapped(title, LARGE, WIDTH - 32, bold=True)[0], LARGE, bold=True)
    sheet.text(16, 50, _place(test, units), SMALL, italic=True)
    most = (trace.drilled_m, ROOM * max(max(r for _, r in trace.points), trace.reference))
    _draw_runs(sheet, trace, most)
    _draw_limits(sheet, trace, most)
    _draw_axes(sheet, most, units)
    sheet.line([_spot(x, y, most) for x, y in trace.points], MEDIUM, kind="trace")
    _draw_shell(sheet, trace, most, units)
    _draw_key(sheet, trace.falls)
    sheet.rect(Box(2, 2, WIDTH - 2, HEIGHT - 2), "none", sheet.ink.ink, MEDIUM)
    return sheet.written()


def _place(test: ReadTest, units: Units) -> str:
    height = f"{u.length(test.height_m, units)} above the ground" if test.height_m is not None else ""
    side = f"from side {compass(test.side_deg)}" if test.side_deg is not None else ""
    return ", ".join(part for part in (height, side, "bark at the left") if part)


def _spot(depth: float, resistance: float, most: Spot) -> Spot:
    x = FIELD.x0 + min(depth / most[0], 1.0) * (FIELD.x1 - FIELD.x0)
    return x, FIELD.y1 - min(resistance / most[1], 1.0) * (FIELD.y1 - FIELD.y0)


def _draw_runs(sheet: Sheet, trace: TraceRead, most: Spot) -> None:
    """Every run as a column up to its mean: wood where sound, hatched where decayed."""
    for run in trace.runs:
        (x0, y), (x1, _) = _spot(run.start_m, run.mean, most), _spot(run.end_m, run.mean, most)
        ring = [(x0, FIELD.y1), (x0, y), (x1, y), (x1, FIELD.y1)]
        if run.sound:
            sheet.area(ring, sheet.ink.wood, None, kind="sound")
        else:
            sheet.area(ring, sheet.ink.paper, None, kind="decayed")
            tall = [(x0, FIELD.y1), (x0, FIELD.y0), (x1, FIELD.y0), (x1, FIELD.y1)]
            sheet.strokes(hatch([tall], 9.0), THIN, sheet.ink.faint, kind="decayed hatch")
        sheet.line([(x0, y), (x1, y)], HEAVY, sheet.ink.bark, kind="mean")


def _draw_limits(sheet: Sheet, trace: TraceRead, most: Spot) -> None:
    """The resistance of sound outer wood, and the shares of it under which a run is decayed, named at the right."""
    x = FIELD.x1 + 8
    low, likely, high = (_spot(0.0, share * trace.reference, most)[1]
                         for share in (trace.falls.low, trace.falls.likely, trace.falls.high))  # fmt: skip
    for y, dash in ((high, "2 5"), (low, "2 5"), (likely, "9 4")):
        sheet.line([(FIELD.x0, y), (FIELD.x1, y)], THIN, sheet.ink.ink, dash=dash, kind="limit")
    outer = _spot(0.0, trace.reference, most)[1]
    sheet.line([(FIELD.x0, outer), (FIELD.x1, outer)], THIN, sheet.ink.bark, kind="outer wood")
    sheet.text(x, outer + 4, "sound outer wood", SMALL, colour=sheet.ink.quiet)
    for y, share in ((high, trace.falls.high), (likely, trace.falls.likely), (low, trace.falls.low)):
        sheet.text(x, y + 4, f"{share * 100:.0f} % of it", SMALL, bold=share == trace.falls.likely)


def _draw_axes(sheet: Sheet, most: Spot, units: Units) -> None:
    sheet.line([(FIELD.x0, FIELD.y0), (FIELD.x0, FIELD.y1), (FIELD.x1, FIELD.y1)], HEAVY)
    choices = [n * INCH_M for n in (0.5, 1, 2, 4, 8)] if units == "us" else [n / 100 for n in (1, 2, 5, 10, 20)]
    step = next((s for s in choices if most[0] / s <= 14), choices[-1])
    for k in range(int(most[0] / step + 1e-9) + 1):
        x, y = _spot(k * step, 0.0, most)
        sheet.line([(x, y), (x, y + 5)], MEDIUM)
        label = f"{k * step / INCH_M:g}" if units == "us" else f"{k * step * 100:g}"
        sheet.text(x, y + 20, label, SMALL, "middle", mono=True)
    unit = "in" if units == "us" else "cm"
    sheet.text(FIELD.x1 + 8, FIELD.y1 + 20, f"depth, {unit}", SMALL, italic=True)
    sheet.text(FIELD.x0, FIELD.y0 - 8, "resistance, as the trace gives it", SMALL, italic=True)


def _draw_shell(sheet: Sheet, trace: TraceRead, most: Spot, units: Units) -> None:
    """Where sound wood ends: a bar from low to high under the likely stroke, told in words above."""
    low, likely, high = (_spot(v, 0.0, most)[0] for v in (trace.shell_m.low, trace.shell_m.likely, trace.shell_m.high))
    y = FIELD.y0 - 2
    words = f"sound wood {depth_words(trace, units)}"
    if trace.met_decay:
        sheet.line([(likely, y), (likely, FIELD.y1)], HEAVY, kind="shell likely")
        sheet.line([(low, y), (high, y)], HEAVY * 2, kind="shell")
    else:
        words = f"no fall down to {u.size(trace.drilled_m, units)}: not proof of sound wood"
    room = text_width(words, SMALL, bold=True)
    x = min(max(likely, FIELD.x0 + 224 + room / 2), WIDTH - 20 - room / 2)
    sheet.text(x, y - 10, words, SMALL, "middle", bold=True, kind="label", halo=True)


def depth_words(trace: TraceRead, units: Units) -> str:
    """Depth of sound wood with its range, to a tenth of an inch or a millimetre."""
    shell, one = trace.shell_m, INCH_M if units == "us" else 0.01
    likely, low, high = (f"{v / one:.1f}" for v in (shell.likely, shell.low, shell.high))
    unit = "in" if units == "us" else "cm"
    return f"{likely} {unit}" if low == high else f"{likely} {unit} ({low} to {high})"


def _draw_key(sheet: Sheet, falls: Range) -> None:
    y = HEIGHT - 40
    sheet.rect(Box(FIELD.x0, y - 11, FIELD.x0 + 24, y + 1), sheet.ink.wood, sheet.ink.bark, THIN)
    sheet.text(FIELD.x0 + 32, y, "found sound", SMALL)
    box = Box(FIELD.x0 + 128, y - 11, FIELD.x0 + 152, y + 1)
    ring = [(box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1)]
    sheet.strokes(hatch([ring], 6.0), THIN, sheet.ink.faint)
    sheet.rect(box, "none", sheet.ink.bark, THIN)
    sheet.text(FIELD.x0 + 160, y, "found decayed", SMALL)
    sheet.line([(FIELD.x0 + 268, y - 4), (FIELD.x0 + 292, y - 4)], HEAVY, sheet.ink.bark)
    sheet.text(FIELD.x0 + 300, y, "mean of a run", SMALL)
    sheet.line([(FIELD.x0 + 398, y - 4), (FIELD.x0 + 422, y - 4)], HEAVY * 2)
    sheet.text(FIELD.x0 + 430, y, "end of sound wood, low to high", SMALL)
    low, likely, high = (f"{share * 100:.0f}" for share in (falls.low, falls.likely, falls.high))
    said = f"A run under {likely} % of the sound outer wood counts as decayed; {low} and {high} % give the range"
    sheet.text(16, HEIGHT - 14, f"{said} (common practice).", SMALL, italic=True)
