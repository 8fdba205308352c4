"""The summary: each thing said in plain words for the owner, with the engineer's number beside it."""

from __future__ import annotations

from bolewright.documents.standing import words as w
from bolewright.documents.standing.failed import needed
from bolewright.documents.standing.seen import could_not_see
from bolewright.drawings import units as u
from bolewright.drawings.units import Units
from bolewright.job.model import Job
from bolewright.planning.standing.results import StandResult

ANSWERS = {
    "inside": "Inside the limits set",
    "outside": "Outside the limits set",
    "not enough known": "Not enough is known",
}
Said = list[str]  # plain words, numbers


def summary(job: Job, result: StandResult, units: Units) -> list[Said]:
    """Rows of (plain words, numbers), what matters most first."""
    back = result.look_back
    rows = [needed(back, units)] if back is not None else []
    rows += [_wind(job, result, units), _first(result, units), _wood(result, units)]
    unseen = could_not_see(result)
    if unseen:
        rows.append(["Some things could not be seen, so nothing is said of them.", "; ".join(unseen)])
    if result.limbs:
        rows.append(_limb(result, units))
    rows.append(_targets(result, units))
    if back is None or result.judgement.worst is not None:
        rows.append(_rating(result))
    return rows if back is not None else [*rows, _narrow(result, units)]


def _wind(job: Job, result: StandResult, units: Units) -> Said:
    design = u.speed(result.design_gust_m_s, units)
    stand = f"{w.percent(result.share_standing)} of the samples stand {design}, {job.limits.share} asked for"
    if result.status == "not enough known":
        unknown = "how deep it goes was not measured: nobody can say yet how it stands"
        plain = f"There are signs of decay, and {unknown} {design}."
        return [plain, stand]
    past = result.look_back is not None
    plain = (
        f"{'As it stood before, the' if past else 'The'} tree was held against a gust of {design}. It was worked out "
        "many times over, each time with other values for what is not known: in "
        f"{result.share_standing * 100:.0f} of 100 it {'stood' if past else 'stands'}."
    )
    answer = ANSWERS[result.status]
    return [plain, f"{f'as it stood before, {answer[0].lower()}{answer[1:]}' if past else answer}: {stand}"]


def _first(result: StandResult, units: Units) -> Said:
    gives = "gives way" if result.look_back is None else "would have given way"
    plain = f"What {gives} first, as far as can be told, is {w.first_to_fail(result, units)}."
    return [
        plain,
        f"in gusts of {w.gust(result.gust_m_s, units)}, worst towards the {w.point(result.worst_towards_deg)}",
    ]


def _wood(result: StandResult, units: Units) -> Said:
    tested = [section for section in result.sections if section.measured]
    if not tested:
        return ["The wood was not tested. All of it is taken as sound, which nobody has shown.", "no section measured"]
    worst = max(tested, key=lambda section: section.loss_of_strength)
    where = u.length(worst.height_m, units)
    lost = f"{worst.loss_of_strength * 100:.0f} of 100 parts of its strength"
    plain = f"Of the places tested, the one {where} up has lost most: {lost}."
    return [plain, f"{w.percent(worst.loss_of_area)} of the area; margin there {w.factor(worst.margin)}"]


def _limb(result: StandResult, units: Units) -> Said:
    least = min(result.limbs, key=lambda limb: limb.margin.likely)
    over = f" It would come down on: {', '.join(least.over)}." if least.over else ""
    plain = f"Of the limbs and unions looked at, {least.id} stands least.{over}"
    return [plain, f"in gusts of {w.gust(least.gust_m_s, units)}, {least.breaks}; margin {w.factor(least.margin)}"]


def _targets(result: StandResult, units: Units) -> Said:
    within = [target for target in result.targets if target.reach in w.REACHED]
    if not result.targets:
        return ["Nothing was written down that it could hit.", "no target"]
    if not within:
        return ["Nothing written down stands within its height.", f"tree {u.length(result.height_m, units)} tall"]
    numbers = "; ".join(f"{t.id} {u.length(t.distance_m, units)} off, {t.reach}" for t in within)
    return [f"It could reach: {', '.join(target.what for target in within)}.", numbers]


def _rating(result: StandResult) -> Said:
    judged = result.judgement
    if len(judged.pairs) > 1 and judged.worst is not None:
        return _rated_worst(result)
    if judged.rating is None:
        return ["The inspector has chosen no rating, and none is worked out in their place.", "not chosen"]
    lasts = f" for {judged.time_frame}" if judged.time_frame else ""
    chosen = f"failure {judged.failure}, impact {judged.impact}, consequences {judged.consequences}"
    is_was = "is" if result.look_back is None else "before it failed was"
    return [f"In the inspector's own judgement the risk {is_was} {judged.rating}{lasts}.", chosen]


def _rated_worst(result: StandResult) -> Said:
    """The worst of several parts and targets, named."""
    judged = result.judgement
    named = [pair for pair in judged.pairs if pair.worst]
    whom = "; ".join(f"{pair.part or pair.id or 'a part'} on {pair.target or 'a target'}" for pair in named)
    lasts = f" for {judged.time_frame}" if judged.time_frame else ""
    open_ = sum(pair.rating is None for pair in judged.pairs)
    rest = f"; {open_} not chosen" if open_ else ""
    return [
        f"Of {len(judged.pairs)} parts and targets the inspector rated the worst {judged.worst}{lasts}: {whom}.",
        ", ".join(f"{pair.id or pair.part or 'first'} {pair.rating}" for pair in judged.pairs if pair.rating) + rest,
    ]


def _narrow(result: StandResult, units: Units) -> Said:
    item = next((item for item in result.narrows if item.measurable), None)
    if item is None:
        return ["Nothing was found that could be measured and would tell more.", ""]
    return [
        f"What would narrow this most: {item.measure}.",
        f"{item.name}: alone moves the gust from {w.span(item.gust_low_m_s, item.gust_high_m_s, units)}",
    ]
