"""What stands in the job hazard analysis."""

from __future__ import annotations

from bolewright.documents.briefing import words as w
from bolewright.documents.briefing.hazards import cautions_used, hazard_groups, step_cautions
from bolewright.documents.given import Given
from bolewright.documents.parts import Block, Section, facts, section, sign, table, words
from bolewright.planning.filled import as_set
from bolewright.planning.results import CutStep, Plan

STATEMENT = (
    "I have read or heard this analysis, know what is done about each hazard, and will stop when it is not done."
)


def lacking(given: Given) -> list[str]:
    """What holds the tree up, and an order of cuts: the steps are what is analysed."""
    if given.hold is None:
        return [given.why_not.get("hold", "It cannot be said yet what holds the tree up.")]
    if given.cuts is None:
        return [given.why_not.get("cuts", "There is no order of cuts yet, and the steps are what is analysed.")]
    return []


def sections(given: Given) -> list[Section]:
    """Hazards of place and tree, of each step, emergency, stop limits, names, sources."""
    job = given.job.job
    people = [("Lead", job.lead), *(("Crew", name) for name in job.crew)]
    return [
        section(
            "Hazards of the place and the tree",
            _site(given),
            plain="What can hurt somebody here, what is known of "
            "it, and what is done about it. The last column is written in at the briefing.",
            wide=True,
        ),
        section("Step by step", *_steps(given), plain="The same for each step of the order of cuts.", wide=True),
        _emergency(given),
        _limits(given),
        section("Known to", sign(people, STATEMENT)),
        section("Where the cautions come from", *_sources(given), wide=True),
    ]


def _emergency(given: Given) -> Section:
    job = given.job.job
    return section(
        "If something happens",
        facts(("Nearest hospital", job.hospital), ("Lead", job.lead), ("Site, to be told", job.site)),
        table(
            (1, 1.4, 1.4),
            ("", "Who", "Where"),
            [["Calls for help", "", ""], ["First aider", "", ""], ["Kit", "", ""], ["Meeting place", "", ""]],
        ),
        plain="The place to give on the telephone stands here, word for word.",
    )


def _limits(given: Given) -> Section:
    day = given.job.day
    return section(
        "Stop limits",
        facts(
            ("Wind", f"gusts over {as_set(given.job, given.units, 'day.wind_limit')}"),
            ("Light until", day.light_until),
            ("Lightning, ice", "stop; the lead says when it goes on"),
        ),
        plain="Set before the start.",
    )


def _site(given: Given) -> Block:
    assert given.hold is not None
    assert given.cuts is not None
    rows = [
        [group["heading"], group["facts"] or "–", " ".join(group["texts"]) or "–", ""]
        for group in hazard_groups(given.job, given.hold, given.cuts)
    ]
    return table((0.8, 1.2, 3.8, 0.7), ("Hazard", "What is known", "What is done about it", "Who"), rows)


def _steps(given: Given) -> list[Block]:
    """Each step with what is its own, and once what is done in more than one."""
    plan = given.plan
    if plan is None:
        return [words("No order of cuts stays inside the limits: no step may be started.")]
    done = {step.n: _done(step, plan) for step in plan.steps}
    where = {said: [n for n, own in done.items() if said in own] for own in done.values() for said in own}
    rows = [
        [
            str(step.n),
            w.what(step) + (f", {step.method}" if step.method else ""),
            _can_happen(step, given),
            " ".join(said for said in done[step.n] if len(where[said]) == 1) or "as below",
            "",
        ]
        for step in plan.steps
    ]
    shared = [[_runs(steps), said, ""] for said, steps in where.items() if len(steps) > 1]
    return [
        table((0.4, 1.1, 2.2, 2.4, 0.6), ("Step", "What", "What can happen", "What is done about it", "Who"), rows),
        table((0.9, 5, 0.8), ("Steps", "Done in more than one step", "Who"), shared),
    ]


def _runs(steps: list[int]) -> str:
    """Numbers in a row with runs drawn together: "1 to 7, 9"."""
    runs: list[list[int]] = []
    for n in steps:
        if runs and n == runs[-1][-1] + 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)


def _can_happen(step: CutStep, given: Given) -> str:
    """From the numbers of the step: mass that moves, stored energy, what stays."""
    parts = []
    if step.action == "cut":
        parts.append(f"{' '.join(w.mass(step.mass_kg, given.units)[:1])} comes off: {step.leaves.words}")
    if step.bind is not None:
        parts.append(f"{step.bind.kind}, lets go {w.energy(step.bind.release_J, given.units)}")
        parts += ["SPRING POLE"] if step.bind.spring_pole else []
    parts.append(f"what stays: {step.stays.words}")
    return "; ".join(parts) + "."


def _done(step: CutStep, plan: Plan) -> list[str]:
    """What is done about it, one sentence each."""
    found = [f"Stand: {step.stand}"] if step.stand else []
    found += [f"Watch: {said}" for said in step.watch]
    found += [f"Stop if: {said}" for said in step.stop]
    return [said if said.endswith(".") else f"{said}." for said in (*found, *step_cautions(step, plan))]


def _sources(given: Given) -> list[Block]:
    assert given.hold is not None
    assert given.cuts is not None
    used = cautions_used(given.job, given.hold, given.cuts)
    rows: dict[tuple[str, str], list[str]] = {}
    for c in used:
        if str(c.status) != "confirmed":
            rows.setdefault((str(c.status), c.source), []).append(c.text)
    read = "; ".join(dict.fromkeys(c.source for c in used if str(c.status) == "confirmed"))
    body = [[mark, " ".join(texts), source] for (mark, source), texts in rows.items()]
    return [
        words(f"Confirmed, read in: {read}."),
        table((0.9, 3.5, 1.5), ("Mark", "Not confirmed in a source", "Rests on"), body),
    ]
