"""A standing tree: crown on the tree, lean with its side, tests that say something, ratings that name a target."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from bolewright.job.checks.members import SLACK, fault_in
from bolewright.job.checks.observed import observed_faults
from bolewright.job.faults import Fault, shown
from bolewright.job.model import Job

TEST = "inspection.test"
NEEDS: dict[str, tuple[str, ...]] = {
    "sounding": ("sound",),
    "probe": ("depth",),
    "drilling": ("shell", "shells", "trace"),
    "opening": ("width",),
    "pull": ("pull", "tilt"),
}
BY_SHARE = ("reduce", "thin", "raise")
HELD = ("brace", "prop")
BREAST = 1.37  # m


def standing_faults(job: Job) -> Iterator[Fault]:
    """Every fault of a standing tree, its tests, targets, rating and failure."""
    yield from _tree(job)
    inspection: Any = job.inspection
    tests: tuple[Any, ...] = (inspection.test if inspection else ()) or ()
    ids = [test.id for test in tests]
    for n, test in enumerate(tests):
        for field, sentence in _test(test, job):
            yield fault_in(TEST, n, ids, field, sentence)
    yield from observed_faults(job)
    yield from _unions(job, inspection)
    yield from _twice("target", job.target or ())
    yield from _rating(job)
    yield from _failure(job)


def _tree(job: Job) -> Iterator[Fault]:
    s: Any = job.standing
    if s is None:
        return
    if s.height is not None and s.crown_base is not None and s.crown_base.likely >= s.height.likely - SLACK:
        sentence = (
            f'The crown begins at "{s.crown_base}", which is not below the top at "{s.height}": measure one again.'
        )
        yield Fault("standing.crown_base", sentence)
    for amount, side in (("lean", "lean_towards"), ("crown_offset", "crown_towards")):
        given = getattr(s, amount)
        if given is not None and given.likely > 0 and getattr(s, side) is None:
            yield Fault(f"standing.{side}", f'"{given}" is given, but not to which side: write {side} = "NE".')
    if s.sweep is not None and s.sweep.likely != 0 and s.lean_towards is None:
        yield Fault("standing.lean_towards", f'A sweep of "{s.sweep}" needs its side: write lean_towards = "NE".')
    if s.ice is not None and s.season is not None and s.season != "iced":
        yield Fault("standing.ice", f'Ice is given, but season = "{s.season}": write season = "iced", or take it out.')
    yield from _out_of_shape(s, job)
    if s.shelter is not None and s.neighbours not in ("standing", "lost"):
        sentence = f'Shelter of "{s.shelter}" needs its trees: write neighbours = "standing" or "lost", or take it out.'
        yield Fault("standing.shelter", sentence)
    stem: tuple[Any, ...] = (job.tree.stem if job.tree else ()) or ()
    tops = [station.at for station in stem if station.at is not None]
    if s.height is not None and tops and tops[-1].likely > s.height.likely * 1.3 + SLACK:
        sentence = f'The stem is "{tops[-1]}" long, but the tree only "{s.height}" tall: measure one of them again.'
        yield Fault("standing.height", sentence)


def _out_of_shape(s: Any, job: Job) -> Iterator[Fault]:
    """A bow or an offset no tree of this height has, and two diameters at breast height."""
    for field, share, what in (("sweep", 0.25, "A sweep"), ("crown_offset", 0.75, "A crown offset")):
        given = getattr(s, field)
        if given is not None and s.height is not None and abs(given.likely) > share * s.height.likely:
            sentence = f'{what} of "{given}" is too much for a tree "{s.height}" tall: measure one of them again.'
            yield Fault(f"standing.{field}", sentence)
    stem: tuple[Any, ...] = (job.tree.stem if job.tree else ()) or ()
    known = [(x.at.likely, x.diameter) for x in stem if x.at is not None and x.diameter is not None]
    dbh = job.tree.dbh if job.tree else None
    near = min(known, key=lambda pair: abs(pair[0] - BREAST), default=None)
    if dbh is None or near is None or abs(near[0] - BREAST) > 0.15:
        return
    if not 0.85 * dbh.low <= near[1].likely <= dbh.high / 0.85:
        sentence = f'The diameter at breast height is "{dbh}" here and "{near[1]}" along the stem: measure it again.'
        yield Fault("tree.dbh", sentence)


def _test(test: Any, job: Job) -> Iterator[tuple[str, str]]:
    """(field, sentence) for each fault of one test."""
    if test.kind is None:
        return
    needs = NEEDS[test.kind]
    given = [name for name in needs if getattr(test, name) is not None]
    if test.kind == "pull":
        missing = [name for name in (*needs, "height") if getattr(test, name) is None]
        if missing:
            yield missing[0], "A pull test needs the pull, the tilt of the plate and the height of the rope."
        return
    if not given:
        yield needs[0], f"A test by {test.kind} has to say what it gave: write {' or '.join(needs)}."
    if len(given) > 1:
        yield given[1], f"This test gives {' and '.join(given)}: keep one of them."
    if test.height is None:
        yield "height", "Say at what height above the ground the test was made."
    elif (top := _top(job)) is not None and test.height.likely > top.likely:
        yield "height", f'"{test.height}" is above the top of the tree at "{top}".'
    if test.kind in ("drilling", "opening") and test.shells is None and test.side is None:
        yield "side", 'Say on which side of the stem: write side = "NE".'
    yield from _depths(test, test.diameter)


def _unions(job: Job, inspection: Any) -> Iterator[Fault]:
    limbs = [limb.id for limb in (job.tree.limb if job.tree else ()) or ()]
    unions: tuple[Any, ...] = (inspection.union if inspection else ()) or ()
    names = [union.limb for union in unions]
    for n, name in enumerate(names):
        if name is None:
            continue
        if name not in limbs:
            yield Fault(f"inspection.union[{n}].limb", _no_limb(name, limbs))
        if name in names[:n]:
            yield Fault(f"inspection.union[{n}].limb", f"The union of {shown(name)} is described twice: keep one.")


def _no_limb(name: str, limbs: list[Any]) -> str:
    known = f" There are {', '.join(shown(limb) for limb in limbs if limb is not None)}." if limbs else ""
    return f"There is no limb called {shown(name)}: write it under [[tree.limb]].{known}"


def _top(job: Job) -> Any:
    """The tree's height, None when it is not known."""
    return job.standing.height if job.standing is not None else None


def _depths(test: Any, diameter: Any) -> Iterator[tuple[str, str]]:
    """Shell depths against the radius, and a shell with no wood in it."""
    depths = {"": test.shell} if test.shell is not None else dict(test.shells or {})
    found = [depth for depth in depths.values() if depth is not None]
    for side, depth in depths.items():
        if depth is None or diameter is None or depth.likely <= diameter.likely / 2 + SLACK:
            continue
        where = f" on side {side}" if side else ""
        yield (
            "shells" if side else "shell",
            f'"{depth}" of sound wood{where} is more than half of the diameter "{diameter}": measure one again.',
        )
    if test.shells and found and max(depth.likely for depth in found) <= 0:
        yield "shells", "No sound wood on any side: nothing there would carry the tree. Measure again."


def _twice(table: str, items: tuple[Any, ...]) -> Iterator[Fault]:
    ids = [item.id for item in items]
    for n, name in enumerate(ids):
        if name is not None and name in ids[:n]:
            yield fault_in(table, n, ids, "id", f"The id {shown(name)} is used twice: give each its own.")


def _rating(job: Job) -> Iterator[Fault]:
    rating: Any = job.rating
    if rating is None:
        return
    yield from _no_target("rating.target", rating.target, job)
    yield from _pairs(rating, job)
    options: tuple[Any, ...] = rating.option or ()
    yield from _twice("rating.option", options)
    ids = [option.id for option in options]
    for n, option in enumerate(options):
        for field, sentence in _option(option, job):
            yield fault_in("rating.option", n, ids, field, sentence)


def _pairs(rating: Any, job: Job) -> Iterator[Fault]:
    """Further pairs, and what options leave of them: names that are there, each once."""
    pairs: tuple[Any, ...] = rating.pair or ()
    yield from _twice("rating.pair", pairs)
    names = [pair.id for pair in pairs]
    for n, pair in enumerate(pairs):
        for fault in _no_target("target", pair.target, job):
            yield fault_in("rating.pair", n, names, "target", fault.sentence)
    options = [option.id for option in rating.option or ()]
    seen: list[tuple[Any, Any]] = []
    for n, left in enumerate(rating.left or ()):
        for field, name, known in (("option", left.option, options), ("pair", left.pair, names)):
            if name is not None and name not in known:
                there = f" There are {', '.join(shown(item) for item in known if item is not None)}." if known else ""
                yield Fault(f"rating.left[{n}].{field}", f"There is no {field} called {shown(name)}.{there}")
        if (left.option, left.pair) in seen:
            sentence = f"What {shown(left.option)} leaves of {shown(left.pair)} is told twice: keep one."
            yield Fault(f"rating.left[{n}]", sentence)
        seen.append((left.option, left.pair))


def _no_target(path: str, name: Any, job: Job) -> Iterator[Fault]:
    targets = [target.id for target in job.target or ()]
    if name is not None and name not in targets:
        known = f" There are {', '.join(shown(target) for target in targets)}." if targets else ""
        yield Fault(path, f"There is no target called {shown(name)}.{known}")


def _option(option: Any, job: Job) -> Iterator[tuple[str, str]]:
    """(field, sentence) for each fault of one option."""
    if option.kind is None:
        return
    if option.kind in BY_SHARE and option.by is None:
        yield "by", f'Say how much to {option.kind}: write by = "20 %".'
    if option.kind not in BY_SHARE and option.by is not None:
        yield "by", f'"{option.by}" says how much of the crown goes; {option.kind} takes none: take it out.'
    for fault in _no_target("target", option.target, job):
        yield "target", fault.sentence
    limbs = {limb.id: limb for limb in (job.tree.limb if job.tree else ()) or ()}
    if option.part is not None and option.part not in limbs:
        yield "part", _no_limb(option.part, list(limbs))
    if option.part is not None and option.kind not in HELD and option.kind != "reduce":
        yield "part", f"{option.kind} is not done to one limb: take part out."
    if option.at is not None and (option.kind not in HELD or option.part is None):
        yield "at", "Say at what distance only for a brace or prop of a named limb: write part too, or take it out."
    limb = limbs.get(option.part)
    if option.at is not None and limb is not None and limb.length is not None and option.at.likely > limb.length.likely:
        yield "at", f'"{option.at}" is beyond the tip of the limb, which is "{limb.length}" long.'


def _roots(failure: Any) -> Iterator[Fault]:
    """Roots measured one by one against the share told of all of them."""
    area = [(root.diameter.likely**2, root.state) for root in failure.root or () if root.diameter is not None]
    if not area or failure.roots_rotten is None:
        return
    share = sum(a for a, state in area if state in ("rotten", "cut")) / sum(a for a, _ in area)
    told = failure.roots_rotten
    if not told.low - 0.10 <= share <= told.high + 0.10:
        sentence = f'Root by root {share:.0%} was rotten or cut, but roots_rotten says "{told}": keep the one measured.'
        yield Fault("failure.roots_rotten", sentence)


def _failure(job: Job) -> Iterator[Fault]:
    failure: Any = job.failure
    if failure is None:
        return
    if failure.shell is not None and failure.shells is not None:
        yield Fault("failure.shells", "Give the sound wood of the broken section once, as shell or as shells.")
    for field, sentence in _depths(failure, failure.diameter):
        yield Fault(f"failure.{field}", sentence)
    top = _top(job)
    if top is not None and failure.height is not None and failure.height.likely >= top.likely:
        yield Fault("failure.height", f'"{failure.height}" is not below the top of the tree at "{top}".')
    yield from _roots(failure)
    wide, thick = failure.opening, failure.diameter
    if wide is not None and thick is not None and wide.likely >= math.pi * thick.likely:
        sentence = f'An opening of "{wide}" goes all round a stem "{thick}" thick: measure one of them again.'
        yield Fault("failure.opening", sentence)
    if failure.kind == "stem" and failure.height is None:
        yield Fault("failure.height", "Say at what height above the ground the stem broke.")
    limbs = [limb.id for limb in (job.tree.limb if job.tree else ()) or ()]
    if failure.limb is not None and failure.limb not in limbs:
        yield Fault("failure.limb", _no_limb(failure.limb, limbs))
    if failure.limb is not None and failure.kind in ("stem", "roots"):
        yield Fault("failure.limb", f'A limb is named, but kind = "{failure.kind}": write kind = "union" or "branch".')
    if failure.opening is not None and failure.opening_side is None:
        yield Fault("failure.opening_side", 'Say on which side the opening was: write opening_side = "NE".')
