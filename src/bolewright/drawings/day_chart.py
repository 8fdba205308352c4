"""Who does what when: crews and machines as rows, tasks as bars, dark and hours of too much wind marked."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from bolewright.drawings.hatch import hatch
from bolewright.drawings.ink import HEAVY, LARGE, MEDIUM, SMALL, THIN, Ink, inks
from bolewright.drawings.svg import Sheet, Spot
from bolewright.drawings.type_widths import Box, text_width, wrapped
from bolewright.planning.haul.daywork import Bar, DayPlan
from bolewright.planning.haul.results import OutResult, StepHours

WIDTH, LEFT, RIGHT = 1200.0, 130.0, 28.0
HEAD, ROW, DAY_HEAD, AXIS, MOST_DAYS = 64.0, 40.0, 26.0, 30.0, 6
FOOT_ROW = 17.0
COLUMN = 290.0
GAP = 0.01  # h between bars of one run

# how each step is drawn: fill and strokes (spacing, angle); a word or number stands in every bar wide enough
LOOKS: dict[str, tuple[Callable[[Ink], str], tuple[tuple[float, float], ...]]] = {
    "set-up": (lambda ink: ink.paper, ()),
    "secure": (lambda ink: ink.paper, ((6.0, 45.0),)),
    "cut": (lambda ink: ink.wood_shade, ()),
    "lower": (lambda ink: ink.wood_shade, ((5.0, 45.0), (5.0, -45.0))),
    "move": (lambda ink: ink.wood_far, ()),
    "load": (lambda ink: ink.wood_far, ((5.0, 0.0),)),
    "clean": (lambda ink: ink.paper, ((5.0, 90.0),)),
    "wait": (lambda ink: ink.paper, ((9.0, 0.0),)),
}


@dataclass(frozen=True)
class _Row:
    """A crew or a machine with its bars."""

    name: str
    bars: tuple[Bar, ...]


def day_chart(title: str, plan: DayPlan, result: OutResult, night: bool = False) -> str:
    """The working days of a job as SVG, one panel a day, the first six of them."""
    rows, days = _rows(plan), max(min(plan.days_likely, MOST_DAYS), 1)
    notes = _notes(plan)
    panel = DAY_HEAD + len(rows) * ROW + AXIS
    foot = max(len(result.steps) * FOOT_ROW, sum(len(_lines(note)) for note in notes) * FOOT_ROW) + 44.0
    sheet = Sheet(WIDTH, HEAD + days * panel + foot, inks(night), f"{title}: the day", _description(plan))
    sheet.text(20, 30, title, LARGE, bold=True)
    sheet.text(20, 52, "Who does what when, at the likely length of every task", SMALL, italic=True)
    hours = _hours(plan)
    for day in range(1, days + 1):
        _draw_day(sheet, HEAD + (day - 1) * panel, day, rows, plan, hours)
    _draw_foot(sheet, HEAD + days * panel + 16.0, result.steps, notes)
    sheet.rect(Box(2, 2, WIDTH - 2, sheet.height - 2), "none", sheet.ink.ink, MEDIUM)
    return sheet.written()


def _rows(plan: DayPlan) -> list[_Row]:
    """Crews first, then every machine that is used."""
    crews = [_Row(f"crew {n}", tuple(b for b in plan.bars if b.crew == n)) for n in range(1, plan.crews + 1)]
    machines = sorted({(bar.machine, bar.unit) for bar in plan.bars if bar.machine})
    several = {name for name, unit in machines if unit > 1}
    return crews + [
        _Row(f"{name} {unit}" if name in several else name,
             tuple(b for b in (*plan.bars, *plan.waits) if (b.machine, b.unit) == (name, unit)))
        for name, unit in machines
    ]  # fmt: skip


def _hours(plan: DayPlan) -> tuple[int, int]:
    """First and last full hour shown."""
    last = max([bar.end_h for bar in plan.bars] + ([plan.dark_h] if plan.dark_h is not None else []), default=17.0)
    first = math.floor(plan.start_h)
    return first, max(math.ceil(last), first + 4)


def _x(hour: float, hours: tuple[int, int]) -> float:
    return LEFT + (hour - hours[0]) / (hours[1] - hours[0]) * (WIDTH - LEFT - RIGHT)


def _draw_day(sheet: Sheet, top: float, day: int, rows: Sequence[_Row], plan: DayPlan, hours: tuple[int, int]) -> None:
    """One day: hour lines, dark and wind, then the bars of every row."""
    ink = sheet.ink
    y0, y1 = top + DAY_HEAD, top + DAY_HEAD + len(rows) * ROW
    sheet.text(20, top + 17, f"Day {day}", SMALL + 1, bold=True)
    for hour in range(hours[0], hours[1] + 1):
        x = _x(hour, hours)
        sheet.line([(x, y0), (x, y1)], THIN, ink.faint)
        sheet.text(x, y1 + 16, f"{hour:02d}:00", SMALL - 1, "middle", mono=True)
    for first, last in ((start, end) for windy, start, end in plan.windy if windy == day):
        _draw_closed(sheet, _x(max(first, hours[0]), hours), _x(min(last, hours[1]), hours), y0, y1, "wind")
    if plan.dark_h is not None:
        _draw_closed(sheet, _x(plan.dark_h, hours), _x(hours[1], hours), y0, y1, "dark")
    for n, row in enumerate(rows):
        y = y0 + n * ROW
        sheet.line([(20, y), (WIDTH - RIGHT, y)], THIN)
        sheet.text(20, y + ROW / 2 + 4, row.name, SMALL, bold=row.name.startswith("crew"))
        _draw_bars(sheet, [bar for bar in row.bars if bar.day == day], y, hours)
    sheet.line([(20, y1), (WIDTH - RIGHT, y1)], MEDIUM)


def _draw_closed(sheet: Sheet, x0: float, x1: float, y0: float, y1: float, word: str) -> None:
    """Hours in which work off the ground, or all work, stops."""
    colour = sheet.ink.stop if word == "wind" else sheet.ink.quiet
    if x1 - x0 > 1.0:
        ring = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
        sheet.strokes(hatch([ring], 9.0, 60.0 if word == "wind" else -60.0), THIN, colour, kind=word)
    sheet.line([(x0, y0 - 6), (x0, y1)], HEAVY, colour, kind=word)
    words = "gusts over the limit" if word == "wind" else "dark"
    anchor = "end" if x0 + text_width(words, SMALL) > WIDTH - RIGHT else "start"
    sheet.text(x0, y0 - 9, words, SMALL, anchor, colour=colour, bold=word == "wind")


def _draw_bars(sheet: Sheet, bars: Sequence[Bar], y: float, hours: tuple[int, int]) -> None:
    """Bars of one row; what follows on of the same step gets one label."""
    for bar in bars:
        x0, x1 = _x(bar.start_h, hours), _x(bar.end_h, hours)
        _draw_bar(sheet, [(x0, y + 6), (x1, y + 6), (x1, y + ROW - 6), (x0, y + ROW - 6)], bar.step)
    for run in _in_turn(sorted(bars, key=lambda bar: bar.start_h)):
        x0, x1 = _x(run[0].start_h, hours), _x(run[-1].end_h, hours)
        words = next((w for w in _labels(run) if text_width(w, SMALL) < x1 - x0 - 6), "")
        sheet.text((x0 + x1) / 2, y + ROW / 2 + 4, words, SMALL, "middle", halo=True)


def _in_turn(bars: Sequence[Bar]) -> list[list[Bar]]:
    """Bars of the same step that follow one another without a gap."""
    runs: list[list[Bar]] = []
    for bar in bars:
        if runs and runs[-1][-1].step == bar.step and bar.start_h - runs[-1][-1].end_h < GAP:
            runs[-1].append(bar)
        else:
            runs.append([bar])
    return runs


def _labels(run: Sequence[Bar]) -> Iterator[str]:
    """Longer and shorter words for a run of bars."""
    if len({bar.what for bar in run}) == 1:
        yield run[0].what
    else:
        yield f"{run[0].step}: {len(run)} in turn"
    yield run[0].step


def _draw_bar(sheet: Sheet, ring: Sequence[Spot], step: str) -> None:
    fill, strokes = LOOKS[step]
    sheet.area(ring, fill(sheet.ink), None, kind=f"bar {step}")
    for spacing, angle in strokes:
        sheet.strokes(hatch([ring], spacing, angle), THIN, sheet.ink.quiet)
    sheet.area(ring, "none", sheet.ink.ink, THIN)


def _draw_foot(sheet: Sheet, top: float, steps: Sequence[StepHours], notes: Sequence[str]) -> None:
    """Steps with their crew hours on the left, what is to be said on the right."""
    sheet.text(20, top + 4, "Crew hours, likely (low to high)", SMALL, bold=True)
    for n, step in enumerate(steps, 1):
        y = top + 6 + n * FOOT_ROW
        _draw_bar(sheet, [(20, y - 10), (48, y - 10), (48, y + 2), (20, y + 2)], step.step)
        sheet.text(58, y, step.step, SMALL)
        hours = f"{step.hours.likely:.1f} ({step.hours.low:.1f} to {step.hours.high:.1f})"
        sheet.text(20 + COLUMN - 30, y, hours, SMALL - 0.5, "end", mono=True)
    y = top + 4
    for note in notes:
        for line in _lines(note):
            sheet.text(20 + COLUMN, y, line, SMALL)
            y += FOOT_ROW
        y += 2


def _notes(plan: DayPlan) -> list[str]:
    late = f"Ends {plan.ends_likely} as likely, {plan.ends_late} if every task takes its longest."
    first = [late] if plan.ends_likely else []
    more = [f"{plan.days_likely - MOST_DAYS} more days are not drawn."] if plan.days_likely > MOST_DAYS else []
    said = [plan.wind, *(reason for reason in plan.reasons if reason != plan.wind), plan.order]
    return [note for note in [*first, *more, *said] if note]


def _lines(note: str) -> list[str]:
    return wrapped(note, SMALL, WIDTH - COLUMN - 50)


def _description(plan: DayPlan) -> str:
    told = "; ".join(f"day {b.day} {_clock(b.start_h)} to {_clock(b.end_h)} crew {b.crew} {b.what}" for b in plan.bars)
    return f"{told}. {' '.join(_notes(plan))}"


def _clock(hours: float) -> str:
    minutes = round(hours * 60.0)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"
