"""The tests of a standing tree: what each said, and the shell they add up to at each height."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from bolewright.core.base.errors import BadInput
from bolewright.core.base.range import Range
from bolewright.core.standing.decay import Readings, checked_readings, clock_of_azimuth
from bolewright.core.standing.trace import FALL, Trace, read_trace
from bolewright.job.compass import read_compass
from bolewright.job.inspection import Test
from bolewright.job.model import Job
from bolewright.job.quantity import Quantity
from bolewright.planning.both import both_lengths
from bolewright.planning.standing import defaults
from bolewright.planning.standing.looked import ReadTest, TraceRead, TraceRun
from bolewright.planning.standing.tree import Stood

SAME_HEIGHT = 0.15  # m: tests nearer than this are of one section
UNITS = {"mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": 0.0254}


@dataclass
class Level:
    """Tests of one height, gathered."""

    height: float
    path: str
    depths: list[tuple[float, float]] = field(default_factory=list)  # (azimuth, likely depth)
    diameter: float | None = None  # of the wood
    opening: tuple[float, float] | None = None  # (azimuth, width)


@dataclass(frozen=True)
class Measured:
    """A section as tested: readings by clock position of the tree's frame, in SI."""

    height: float
    at: float
    diameter: float
    readings: Readings
    opening: tuple[float, float] | None
    sides: tuple[tuple[float, float], ...]  # (azimuth [rad], depth)


@dataclass(frozen=True)
class Tested:
    """All tests read."""

    sections: tuple[Measured, ...]
    reads: tuple[ReadTest, ...]
    shell: Range  # error of every depth
    notes: tuple[str, ...]


def tests_of(tree: Stood) -> Tested:
    """Every test read, and the sections they give. Raises BadInput where tests contradict the stem or each other."""
    inspection = tree.job.inspection
    tests = inspection.test if inspection is not None else ()
    levels: list[Level] = []
    reads: list[ReadTest] = []
    errors = [Range(-defaults.SHELL_SPREAD, 0.0, defaults.SHELL_SPREAD)]
    notes: list[str] = []
    for n, test in enumerate(tests):
        path = path_of(test, n)
        read, depths = _read(test, path)
        reads.append(read)
        if test.kind not in ("drilling", "opening") or test.height is None:
            continue
        level = _level(levels, test, path, tree.bark)
        level.depths += [(turn, depth.likely) for turn, depth in depths]
        errors += [Range(d.low - d.likely, 0.0, d.high - d.likely) for _, d in depths if d.low < d.high]
        if test.kind == "opening" and test.side is not None and test.width is not None:
            level.opening = (test.side.likely, test.width.likely)
    sections = [m for level in levels if (m := _measured(tree, level, notes)) is not None]
    broken = broken_section(tree)
    if broken is not None and all(abs(m.height - broken.height) > SAME_HEIGHT for m in sections):
        notes.append(f"The section measured at the break, {both_lengths(broken.height)}, counts as tested.")
        sections.append(broken)
    shell = Range(min(e.low for e in errors), 0.0, max(e.high for e in errors))
    return Tested(tuple(sections), tuple(reads), shell, tuple(notes))


def broken_section(tree: Stood) -> Measured | None:
    """The section measured where the stem broke; None without a broken stem or a depth of sound wood."""
    failure = tree.job.failure
    if failure is None or failure.kind != "stem" or failure.height is None:
        return None
    if failure.shell is None and failure.shells is None:
        return None
    height = failure.height.likely
    at = tree.at_height(height)
    diameter = failure.diameter.likely * tree.bark if failure.diameter is not None else tree.diameter_at(at)
    path = "failure.shells"
    if failure.shells is not None:
        sides = [(read_compass(side).likely, depth.likely) for side, depth in failure.shells.items()]
    else:
        assert failure.shell is not None
        sides, path = [(tree.bearing, failure.shell.likely)], "failure.shell"
    readings = checked_readings(diameter, [(clock_of_azimuth(turn, tree.bearing), d) for turn, d in sides], path)
    opening = None
    if failure.opening is not None and failure.opening_side is not None:
        opening = (clock_of_azimuth(failure.opening_side.likely, tree.bearing), failure.opening.likely)
    return Measured(height, at, diameter, readings, opening, tuple(sides))


def _level(levels: list[Level], test: Test, path: str, bark: float) -> Level:
    height = test.height.likely if test.height is not None else 0.0
    found = next((level for level in levels if abs(level.height - height) <= SAME_HEIGHT), None)
    if found is None:
        found = Level(height, path)
        levels.append(found)
    if test.diameter is not None:
        found.diameter = test.diameter.likely * bark
    return found


def _measured(tree: Stood, level: Level, notes: list[str]) -> Measured | None:
    where = both_lengths(level.height)
    if not level.depths:
        notes.append(f"The opening at {where} is not reckoned with: no depth of sound wood was measured beside it.")
        return None
    at = tree.at_height(level.height)
    diameter = level.diameter if level.diameter is not None else tree.diameter_at(at)
    readings = [(clock_of_azimuth(turn, tree.bearing), depth) for turn, depth in level.depths]
    opening = level.opening
    clock = None if opening is None else (clock_of_azimuth(opening[0], tree.bearing), opening[1])
    checked = checked_readings(diameter, readings, level.path)
    if len(checked) < 3:
        few = "one hole" if len(checked) == 1 else "two holes"
        notes.append(f"At {where} the whole shell rests on {few}: decay between them is not seen.")
    return Measured(level.height, at, diameter, checked, clock, tuple(level.depths))


def _read(test: Test, path: str) -> tuple[ReadTest, list[tuple[float, Range]]]:
    """The test in words, and the depths (azimuth, range) it gives."""
    side = test.side.likely if test.side is not None else None
    depths: list[tuple[float, Range]] = []
    shell: Range | None = None
    words = ""
    trace = _trace(test, path)
    if test.kind == "drilling":
        depths, words = _drilled(test, path, side or 0.0, trace)
        shell = depths[0][1] if len(depths) == 1 else None
    elif test.kind == "sounding":
        words = f"sounds {test.sound}: a pointer, not proof"
    elif test.kind == "probe" and test.depth is not None:
        words = f"a probe went in {test.depth.text}"
    elif test.kind == "opening" and test.width is not None:
        words = f"opening {test.width.text} wide"
    elif test.kind == "pull" and test.pull is not None and test.tilt is not None:
        words = f"the root plate tilted {test.tilt.text} at a pull of {test.pull.text}"
    height = test.height.likely if test.height is not None else None
    azimuth = None if side is None else math.degrees(side) % 360.0
    return ReadTest(test.id or path, test.kind, height, azimuth, words, shell, test.photo, _shown(trace)), depths


def _trace(test: Test, path: str) -> Trace | None:
    """The trace of a drilling, where it has one and no depth stands in its place."""
    if test.kind != "drilling" or test.trace is None or test.shells is not None or test.shell is not None:
        return None
    return trace_of(test.trace, f"{path}.trace")


def _shown(trace: Trace | None) -> TraceRead | None:
    if trace is None:
        return None
    runs = tuple(TraceRun(run.start, run.end, run.mean, run.sound) for run in trace.runs)
    return TraceRead(trace.points, runs, trace.reference, FALL, trace.shell, trace.met_decay, trace.drilled)


def _drilled(test: Test, path: str, side: float, trace: Trace | None) -> tuple[list[tuple[float, Range]], str]:
    if test.shells is not None:
        found = [(read_compass(name).likely, _range(depth)) for name, depth in test.shells.items()]
        return found, ", ".join(f"{name} {depth.text}" for name, depth in test.shells.items()) + " of sound wood"
    if test.shell is not None:
        return [(side, _range(test.shell))], f"{test.shell.text} of sound wood"
    trace = trace or trace_of(test.trace or "", f"{path}.trace")
    return [(side, trace.shell)], _trace_words(trace)


def depths_of(test: Test, path: str) -> tuple[tuple[float, Range], ...]:
    """Depths of sound wood (azimuth [rad], range [m]) that a drilling gives; none of any other test."""
    if test.kind != "drilling":
        return ()
    side = test.side.likely if test.side is not None else 0.0
    return tuple(_drilled(test, path, side, _trace(test, path))[0])


def path_of(test: Test, n: int) -> str:
    """How a test is named in a sentence: by its id, else by its number."""
    return f'inspection.test["{test.id}"]' if test.id else f"inspection.test[{n}]"


def _range(quantity: Quantity) -> Range:
    return Range(quantity.low, quantity.likely, quantity.high)


def _trace_words(trace: Trace) -> str:
    if not trace.met_decay:
        return (
            f"no fall in resistance down to {both_lengths(trace.drilled)}: sound as far as the needle went, or "
            "early decay that a needle does not feel"
        )
    shell = trace.shell
    ends = [f"{low:.1f} and {high:.1f}" for low, high in ((100 * shell.low, 100 * shell.high),
                                                          (shell.low / 0.0254, shell.high / 0.0254))]  # fmt: skip
    return (
        f"resistance falls below {FALL.likely:.0%} of the outer wood's at {both_lengths(shell.likely)}, between "
        f"{ends[0]} cm ({ends[1]} in) "
        f"for {FALL.high:.0%} and {FALL.low:.0%}"
    )


def trace_of(text: str, path: str) -> Trace:
    """A trace from its text: a first line naming depth with its unit, then depth and resistance line by line."""
    lines = [line.strip() for line in text.replace(";", ",").replace("\t", ",").splitlines() if line.strip()]
    head = lines[0].lower().replace("[", "_").replace("(", "_") if lines else ""
    unit = next((u for u in ("mm", "cm", "in", "m") if head.startswith(f"depth_{u}") or f"depth _{u}" in head), None)
    if unit is None:
        raise BadInput('The first line of a trace names its columns and unit, such as "depth_mm,resistance".', path)
    depth: list[float] = []
    resistance: list[float] = []
    for n, line in enumerate(lines[1:], start=2):
        parts = line.split(",")
        try:
            depth.append(float(parts[0]) * UNITS[unit])
            resistance.append(float(parts[1]))
        except (ValueError, IndexError):
            raise BadInput(f'Line {n} of the trace is "{line[:40]}": write two numbers with a comma.', path) from None
    try:
        return read_trace(depth, resistance)
    except BadInput as fault:
        raise BadInput(fault.sentence, path) from None


def decay_signs(job: Job) -> tuple[str, ...]:
    """Signs of decay that were seen or heard, as written down."""
    if job.inspection is None:
        return ()
    seen = [
        o.what
        for o in job.inspection.observation
        if o.state == "seen" and o.group in ("roots", "stem") and any(sign in o.what.lower() for sign in defaults.SIGNS)
    ]
    opened = ["cavity opening" for t in job.inspection.test if t.kind == "opening"]
    heard = [f"{t.sound} sound" for t in job.inspection.test if t.kind == "sounding" and t.sound in ("dull", "hollow")]
    return tuple(dict.fromkeys([*seen, *opened, *heard]))
