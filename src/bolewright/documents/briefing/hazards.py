"""Which hazards this job has, in the order to be read, and the cautions that belong to each."""

from __future__ import annotations

from typing import Any

from bolewright.job.model import Job, Utility
from bolewright.planning.results import CutsResult, CutStep, HoldResult, Plan
from bolewright.reference.cautions import Caution, cautions_for

UTILITY_PLACES = {"power": "power", "telephone": "power", "gas": "gas", "water": "water"}
METHOD_PLACES = {"lower on a line": ("rope",), "crane pick": ("crane",), "roll off": ("roll",)}
PLACE_PLACES = {"prop": ("prop",), "crib": ("prop",), "chock": ("roll",), "tie-back": ("rope",), "crane": ("crane",)}
STATUS_PLACES = {"not held": ("people", "stored energy"), "can roll": ("roll",), "can slide": ("sliding",)}
ALWAYS = ("cover", "crew", "law")

Group = tuple[str, str, tuple[str, ...]]  # heading, what is known of it here, places of its cautions


def hazard_groups(job: Job, held: HoldResult, cut: CutsResult) -> list[dict[str, Any]]:
    """Hazards of the job with their cautions, each caution once, most deadly first."""
    told: set[str] = set()
    groups = []
    for heading, facts, places in (*_site(job), *_tree(job, held), *_work(cut)):
        texts = [c.text for c in cautions_for(*places) if c.id not in told]
        told |= {c.id for c in cautions_for(*places)}
        if texts or facts:
            groups.append({"heading": heading, "facts": facts, "texts": texts})
    texts = [c.text for c in cautions_for(*ALWAYS) if c.id not in told]
    return [*groups, {"heading": "Every job", "facts": "", "texts": texts}]


def cautions_used(job: Job, held: HoldResult, cut: CutsResult) -> tuple[Caution, ...]:
    """Every caution printed in the briefing, for the list of sources."""
    places = [place for _, _, own in (*_site(job), *_tree(job, held), *_work(cut)) for place in own]
    return cautions_for(*dict.fromkeys([*places, *ALWAYS, "cut"]))


def step_cautions(step: CutStep, plan: Plan) -> list[str]:
    """The cautions that belong on the card of one step."""
    places = list(METHOD_PLACES.get(step.method, ()))
    places += ["stored energy"] if step.bind is not None and step.bind.spring_pole else []
    kinds = [place.kind for place in plan.places if place.id == step.piece and step.action != "cut"]
    places += [own for kind in kinds for own in PLACE_PLACES.get(kind, ())]
    return [caution.text for caution in cautions_for(*dict.fromkeys(places)) if caution.id != "bind-side"]


def _site(job: Job) -> list[Group]:
    groups: list[Group] = []
    for kind in ("power", "telephone", "gas", "water", "sewer", "other"):
        lines = [line for line in job.job.utilities if line.kind == kind]
        off = bool(lines) and all(line.state == "off" for line in lines)
        places = () if off or kind not in UTILITY_PLACES else (UTILITY_PLACES[kind],)
        if lines:
            groups.append((kind.capitalize(), "; ".join(map(_utility, lines)), places))
    people = {True: "all out, as entered", False: "NOT all out yet", None: "not said whether all are out"}
    groups.append(("People", people[job.job.people_out], ("people",)))
    if job.building:
        groups.append(("Building", ", ".join(building.id for building in job.building), ("building",)))
    if any(support.on == "roof" for support in job.support):
        groups.append(("Roof", "the tree rests on a roof", ("roof",)))
    return groups


def _utility(line: Utility) -> str:
    states = {"live": "LIVE", "off": "off, as entered", "unknown": "state not known: treat as live"}
    far = f"{line.distance} away at the nearest" if line.distance is not None else "distance not entered"
    return f"{states[line.state]}, {far}"


def _tree(job: Job, held: HoldResult) -> list[Group]:
    groups: list[Group] = []
    if held.status in STATUS_PLACES:
        groups.append(("The tree as found", held.status, STATUS_PLACES[held.status]))
    if job.tree.attached == "root plate":
        groups.append(("Root plate", "lifted, still joined to the stem", ("root plate",)))
    if job.tree.attached == "hinge":
        groups.append(("Fibre hinge", "the break still holds by fibre", ("stored energy",)))
    broken = [limb.id for limb in job.tree.limb if limb.broken]
    if broken:
        groups.append(("Overhead", f"cracked or hanging: {', '.join(broken)}", ("overhead",)))
    return groups


def _work(cut: CutsResult) -> list[Group]:
    plan = cut.chosen
    groups: list[Group] = []
    if any(step.bind is not None and step.bind.spring_pole for step in plan.steps):
        steps = ", ".join(str(step.n) for step in plan.steps if step.bind is not None and step.bind.spring_pole)
        groups.append(("Spring poles", f"steps {steps}", ("stored energy",)))
    if any(step.action == "cut" for step in plan.steps):
        groups.append(("Drop zone", "marked on the view from above", ("drop zone", "cut")))
    for method, places in METHOD_PLACES.items():
        steps = ", ".join(str(step.n) for step in plan.steps if step.method == method)
        groups += [(method[:1].upper() + method[1:], f"steps {steps}", places)] if steps else []
    for kind in dict.fromkeys(place.kind for place in plan.places):
        names = ", ".join(place.id for place in plan.places if place.kind == kind)
        groups.append((kind[:1].upper() + kind[1:], names, PLACE_PLACES.get(kind, ())))
    return groups
