"""A standing tree as text: the answer, what fails first, the places tested, the roots, what is not known."""

from __future__ import annotations

from rich.console import Console

from bolewright.cli.show import page as sheet
from bolewright.cli.show.page import Units
from bolewright.cli.show.page import files as files
from bolewright.core.base.range import Range
from bolewright.drawings import units as words
from bolewright.drawings.standing_words import compass, formula_words, gusts, rule_words
from bolewright.planning.both import in_one
from bolewright.planning.standing.looked import LookBack
from bolewright.planning.standing.rated import Judgement, OptionAfter, PairRated
from bolewright.planning.standing.results import LimbStand, StandResult, StandSection

ANSWERS = {
    "inside": "INSIDE the limits you set",
    "outside": "OUTSIDE the limits you set",
    "not enough known": "NOT ENOUGH IS KNOWN",
}
SECTION_COLUMNS = ("Height", "Wood", "Strength lost", "Breaks in gusts of", "Margin")
LIMB_COLUMNS = ("Limb", "Own weight takes", "Breaks in gusts of", "Where", "Margin", "Comes down on")
TARGET_COLUMNS = ("Target", "Away", "Lies", "People there")
PAIR_COLUMNS = ("Part", "Target", "Fails, then hits, consequences", "Risk")
OPTION_COLUMNS = ("Option", "Fails in gusts of", "Then rated")
FEW = 3


def show(title: str, result: StandResult, units: Units) -> None:
    """Print the answer, then what it rests on."""
    page = sheet.console()
    if result.look_back is not None:
        sheet.answer(page, title, "THIS TREE HAS FAILED", good=False)
        _look_back(page, result.look_back, units)
        sheet.heading(page, f"As it stood before, with what was measured since: {ANSWERS[result.status]}")
    else:
        sheet.answer(page, title, ANSWERS[result.status], good=result.status == "inside")
    sheet.line(page, result.words)
    sheet.line(page, f"Held against a gust of {words.speed(result.design_gust_m_s, units)}: {result.design_gust_why}")
    sheet.line(page, f"Fails first: {result.breaks_first}, in gusts of {gusts(result.gust_m_s, units)}")
    sheet.line(page, f"Worst wind blows towards {compass(result.worst_towards_deg)}")
    if result.wind_gust_m_s is not None and result.wind_towards_deg is not None:
        towards = compass(result.wind_towards_deg)
        sheet.line(page, f"Wind towards {towards}: fails in gusts of {gusts(result.wind_gust_m_s, units)}")
    _wind(page, result, units)
    _sections(page, result, units)
    _roots(page, result, units)
    _limbs(page, result, units)
    _tests(page, result, units)
    _unseen(page, result)
    _narrows(page, result, units)
    _targets(page, result, units)
    _rating(page, result.judgement, units)
    sheet.notes(page, [in_one(note, units) for note in result.notes])
    sheet.filled_in(page, result.filled_in, units)
    sheet.heading(page, "Mind")
    sheet.cautions(page, "cover")


def _wind(page: Console, result: StandResult, units: Units) -> None:
    """Other seasons, and what neighbours do."""
    said = [f"{s.season} {gusts(s.gust_m_s, units)}" for s in result.seasons if not s.judged]
    if said:
        sheet.line(page, f"In other seasons it fails in gusts of: {'; '.join(said)}")
    shelter = result.shelter
    if shelter is not None:
        when = "Behind its neighbours" if shelter.neighbours == "standing" else "Before its neighbours were lost"
        sheet.line(page, f"{when}: gusts of {gusts(shelter.gust_m_s, units)}. {shelter.words}")


def _sections(page: Console, result: StandResult, units: Units) -> None:
    sheet.heading(page, "Stem")
    shown = [s for s in result.sections if s.measured or s.height_m == result.breaks_first_height_m]
    weakest = min(result.sections, key=lambda s: s.gust_m_s.likely)
    rows = shown if weakest in shown else sorted([*shown, weakest], key=lambda s: s.height_m)
    sheet.table(page, SECTION_COLUMNS, (_section(s, units) for s in rows))
    for s in rows:
        _beside(page, s, units)


def _section(s: StandSection, units: Units) -> tuple[str, str, str, str, str]:
    margin = f"{s.margin.likely:.1f} ({s.margin.low:.1f} to {s.margin.high:.1f})"
    lost = f"{s.loss_of_strength:.0%}" if s.shell else "not tested"
    return words.length(s.height_m, units), words.size(s.diameter_m, units), lost, gusts(s.gust_m_s, units), margin


def _beside(page: Console, s: StandSection, units: Units) -> None:
    """The rules people know, beside a measured section."""
    if not s.formulas or not s.measured:
        return
    said = "; ".join(f"{formula_words(f)} ({f.source})" for f in s.formulas)
    sheet.line(page, f"At {words.length(s.height_m, units)} the one-line formulas say, points off: {said}", indent=2)
    for rule in s.rules:
        if rule.applies and not rule.within:
            sheet.line(page, f"{rule_words(rule)} ({rule.source})", indent=4)


def _roots(page: Console, result: StandResult, units: Units) -> None:
    roots = result.roots
    sheet.heading(page, "Roots")
    sheet.line(page, f"Hold {words.moment_range(roots.capacity_Nm, units)}", indent=2)
    sheet.line(page, f"Asked of them: {words.moment_range(roots.moment_Nm, units)}", indent=2)
    sheet.line(page, f"Let go in gusts of {gusts(roots.gust_m_s, units)}", indent=2)
    if roots.loss.likely > 0.0:
        lost = f"{roots.loss.likely:.0%} ({roots.loss.low:.0%} to {roots.loss.high:.0%})"
        sheet.line(page, f"Taken off for lost roots: {lost}", indent=2)
    if roots.plate_Nm is not None:
        plate = words.moment_range(Range.exact(roots.plate_Nm), units)
        sheet.line(page, f"Cross-check by the weight of the root plate: {plate}", indent=2)


def _limbs(page: Console, result: StandResult, units: Units) -> None:
    if not result.limbs:
        return
    sheet.heading(page, "Limbs and unions")
    sheet.table(page, LIMB_COLUMNS, (_limb(limb, units) for limb in result.limbs))
    for limb in result.limbs:
        union = limb.union
        said = f"{union.form}, bark in it {union.bark}: keeps {union.kept.likely:.0%}"
        line = (
            f"{limb.id}: {said} ({union.kept.low:.0%} to {union.kept.high:.0%}) of the limb's strength, {union.status}"
        )
        sheet.line(page, f"{line}. {union.note}".strip(), indent=2)


def _limb(limb: LimbStand, units: Units) -> tuple[str, str, str, str, str, str]:
    margin = f"{limb.margin.likely:.1f} ({limb.margin.low:.1f} to {limb.margin.high:.1f})"
    own = f"{limb.own_share.likely:.0%} of it"
    over = ", ".join(limb.over) or "none named"
    name = f"{limb.id}, {words.length(limb.height_m, units)} up"
    return name, own, gusts(limb.gust_m_s, units), limb.breaks, margin, over


def _tests(page: Console, result: StandResult, units: Units) -> None:
    if result.tests:
        sheet.heading(page, "Tests")
    for test in result.tests:
        sheet.line(page, f"{test.id} ({test.kind}): {in_one(test.words, units)}", indent=2)


def _unseen(page: Console, result: StandResult) -> None:
    unseen = [(group.group, what) for group in result.looked for what in group.could_not_see]
    if unseen:
        sheet.heading(page, "Could not be seen")
    for group, what in unseen:
        sheet.line(page, f"{group}: {what}", indent=2)


def _narrows(page: Console, result: StandResult, units: Units) -> None:
    sheet.heading(page, "What would narrow the answer most")
    for item in [item for item in result.narrows if item.measurable][:FEW]:
        ends = sorted((item.gust_low_m_s, item.gust_high_m_s))
        span = f"{words.speed(ends[0], units)} to {words.speed(ends[1], units)}"
        then = f" Then perhaps {gusts(item.then_m_s, units)}." if item.then_m_s is not None else ""
        sheet.line(page, f"{item.measure}: {item.name} alone moves it from {span}.{then}", indent=2)
    hidden = [item.name for item in result.narrows[:FEW] if not item.measurable]
    if hidden:
        sheet.line(page, f"Nothing on site measures: {', '.join(hidden)}.", indent=2)


def _targets(page: Console, result: StandResult, units: Units) -> None:
    if not result.targets:
        return
    sheet.heading(page, "What it could hit")
    rows = (
        (t.what, f"{words.length(t.distance_m, units)} {compass(t.towards_deg)}", t.reach, t.occupancy)
        for t in result.targets
    )
    sheet.table(page, TARGET_COLUMNS, rows)


def _rating(page: Console, judged: Judgement, units: Units) -> None:
    sheet.heading(page, "Rating, as the assessor chose")
    if len(judged.pairs) > 1:
        sheet.table(page, PAIR_COLUMNS, (_pair(pair) for pair in judged.pairs))
        if judged.worst is not None:
            sheet.line(page, f"the worst of them: risk rated {judged.worst}", indent=2)
    elif judged.failure is None:
        sheet.line(page, "None chosen. None is worked out in its place.", indent=2)
    else:
        chosen = f"failure {judged.failure}, impact {judged.impact}, consequences {judged.consequences}"
        sheet.line(page, f"{judged.part or 'whole tree'}: {chosen}", indent=2)
        if judged.rating is not None:
            sheet.line(page, f"together {judged.combined}: risk rated {judged.rating}", indent=2)
    if judged.time_frame or judged.reinspect:
        sheet.line(
            page, f"for {judged.time_frame or 'no time named'}; look again {judged.reinspect or 'no day named'}", 2
        )
    if judged.options:
        sheet.table(page, OPTION_COLUMNS, (_option(option, units) for option in judged.options))


def _pair(pair: PairRated) -> tuple[str, str, str, str]:
    chosen = ", ".join(word or "not chosen" for word in (pair.failure, pair.impact, pair.consequences))
    name = f"{pair.id}: {pair.part or 'part not said'}" if pair.id else pair.part or "whole tree"
    risk = f"{pair.rating}, the worst" if pair.worst else pair.rating or "not chosen"
    return name, pair.target or "not said", chosen, risk


def _option(option: OptionAfter, units: Units) -> tuple[str, str, str]:
    gust = gusts(option.gust_m_s, units) if option.gust_m_s is not None else option.words
    if option.part:
        gust = f"{option.part}: {gust}"
    if option.support_N is not None:
        gust += f"; it carries {words.force_range(option.support_N, units)}"
    again = f"; look again {option.reinspect}" if option.reinspect else ""
    rated = option.rating or "not chosen"
    if len(option.pairs) > 1:
        rated = "; ".join(f"{p.id or p.part or 'first'}: {p.rating or 'not chosen'}" for p in option.pairs)
    return option.id, gust, f"{rated}{again}"


def _look_back(page: Console, back: LookBack, units: Units) -> None:
    sheet.heading(page, "Looking back")
    sheet.line(page, back.words, indent=2)
    if back.roots_lost is not None:
        sheet.line(page, f"Of the roots measured, {back.roots_lost:.0%} were rotten or cut before", indent=2)
    sheet.line(page, f"Needed, as measured: gusts of {gusts(back.needed_m_s, units)}", indent=2)
    sheet.line(page, f"Needed, if sound: gusts of {gusts(back.needed_sound_m_s, units)}", indent=2)
    if back.recorded_m_s is not None:
        sheet.line(
            page, f"Recorded: {words.speed(back.recorded_m_s, units)} ({back.station or 'no station'})", indent=2
        )
    for show_ in back.would_have_shown:
        sides = " and ".join(compass(side) for side in show_.sides_deg)
        found = ", ".join(words.size(depth, units) for depth in show_.depths_m)
        told = "past" if show_.over_loss_rule or show_.over_shell_rule else "within"
        said = f"Drilled at {sides}: {found} of sound wood, {told} the published limits"
        sheet.line(page, said, indent=2)
    if back.opinion:
        sheet.line(page, f"Opinion: {back.opinion}", indent=2)
