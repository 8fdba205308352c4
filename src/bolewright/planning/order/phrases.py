"""The plan's sentences: why this piece now, what to watch, when to stop. Shares, not units, so that both unit systems
read the same."""

from __future__ import annotations

from bolewright.core.cutting.handling import LEFT_ON_PLATE
from bolewright.job.model import Job
from bolewright.planning.both import both_lengths
from bolewright.planning.holding.model import Model
from bolewright.planning.order.facts import facts_of
from bolewright.planning.results import Bind, Motion

HELD_WAYS = ("lower on a line", "crane pick")
TAKES_ON = {
    "root plate": "The root plate: it is pressed harder on its edge, and may settle",
    "hinge": "The fibre at the break: it is pressed or pulled harder",
}
HELD_DOWN = {
    "root plate": "The roots: from here on they hold the butt down; if they tear, the butt lifts",
    "hinge": "The fibre at the break: from here on it holds the butt down; if it tears, the butt lifts",
}
LETS_GO = {
    "root plate": "The root plate lifts, drops or turns",
    "hinge": "Fibre at the break tears, cracks or opens",
}
LEFT_LYING = (
    "What is left, from here on: it still bears on what carries it. Chock it on both sides, leave every prop in until "
    "it is down, and plan its own cuts",
)
KERF_SEEN = 1.0  # mm
SMALL = 0.01  # of the load on the building as found


def why(change: float, method: str, carried: list[str], last: bool, loaded: bool) -> str:
    """Why this piece comes off at this point."""
    if method == LEFT_ON_PLATE:
        return "Frees the stem from the root plate while both still lie still; the stub stays on the plate."
    if last and method in HELD_WAYS:
        return "The last piece: it is tied or on the hook before it is cut free."
    if last:
        return "The last piece: nothing else is left to hold, and the drop zone is empty before the saw goes in."
    if carried:
        return (
            f"It carries load ({', '.join(carried)}), so it comes off only now, when what is left rests without it"
            f" and {_building(change)}."
        )
    if not loaded:
        return "The building carries nothing any more; this is the quickest piece that leaves the rest held."
    if abs(change) < SMALL:
        return "It carries nothing and its loss changes nothing on the building: out of the way first."
    if change < 0.0:
        return f"Its weight lies on the building: {_building(change)}."
    return f"A counterweight: {_building(change)}, still inside the limits; nothing lighter is left to take first."


def _building(change: float) -> str:
    if abs(change) < SMALL:
        return "the load on the building does not change"
    word = "falls" if change < 0.0 else "rises"
    return f"the load on the building {word} by {100.0 * abs(change):.0f} % of what it was as found"


def watch(
    rising: list[str], bind: Bind | None, stays: Motion, method: str, slides: bool, rolls: bool
) -> tuple[str, ...]:
    """What to look at during the cut."""
    out = [TAKES_ON.get(name, f"{name}: it takes on load") for name in rising]
    if bind is not None and _kerf_closes(bind):
        out.append("The kerf: it closes on the side in compression")
    if slides:
        out.append("Sliding: with a low friction nothing but ropes holds what is left; tie it back before this cut")
    if rolls:
        out.append("Rolling: nothing keeps what stays from rolling; chock it on both sides before this cut")
    if stays.kind != "held":
        out.append(f"What stays: it {stays.words}")
    if method == "lower on a line":
        out.append("The line: load on it before the last fibre goes, nobody under it")
    if method == "crane pick":
        out.append("The hook: the read-out against the weight on this card before the cut")
    if method in ("free drop", "roll off"):
        out.append("The drop zone: closed and empty until the piece lies still")
    return tuple(out)


def stop(job: Job, rising: list[str], bind: Bind | None) -> tuple[str, ...]:
    """When to stop and think again."""
    most = both_lengths(job.limits.movement.likely)
    out = [f"Any support point moves more than {most}, or the building cracks, creaks or drips"]
    seen = [name for name in rising if name not in TAKES_ON]
    if seen:
        out.append(f"{seen[0]} does not take the load, or sinks")
    out += [text for name, text in LETS_GO.items() if name in rising]
    if bind is not None and _kerf_closes(bind):
        out.append("The kerf opens on that side instead: the load path is not what was computed")
    out.append("Anything lifts, rolls or settles that this card does not name")
    return tuple(out)


def _kerf_closes(bind: Bind) -> bool:
    """Whether the kerf closes enough, and in every sample, to be read by eye. An opening one is no sign to steer by:
    what is squeezed still pinches before the last fibre goes."""
    return bind.kerf_mm.likely <= -KERF_SEEN and bind.kerf_mm.high < 0.0


def take_away(method: str, hinge: bool) -> str:
    """Where to stand when the last piece goes whole."""
    fibre = "The fibre at the break is cut last, from the side, never from below. " if hinge else ""
    if method in HELD_WAYS:
        return f"{fibre}Clear of the piece and of anything it may swing into."
    return f"{fibre}Outside the drop zone: bring the piece down with a line, with nobody beside or below it."


def loose(held: float) -> tuple[str, ...]:
    """Said where some samples find nothing that holds what is left."""
    if held > 0.995:
        return ()
    return (f"Balance: in {100.0 * (1.0 - held):.0f} of 100 cases worked through nothing holds what is left",)


def reached(things: list[str]) -> tuple[str, ...]:
    """Things to protect inside the drop zone."""
    return (f"Inside the drop zone: {', '.join(things)}; cover it or move it first",) if things else ()


def plate_words(model: Model) -> str:
    """What the root plate does with its stub."""
    word = facts_of(model).plate_word
    return f"{word} with its stub: nobody near it or in its hole" if word else "stays as it is"


ALOFT = "The cut is above reach: work from a lift, or on a climbing line tied to something other than this tree."
