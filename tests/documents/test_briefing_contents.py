"""What is printed, read back from the PDF by an independent reader: nothing missing, numbers those of the results."""

from __future__ import annotations

import re

import pytest

from bolewright.drawings import units as u
from bolewright.drawings.units import Units

NAMES = ("garage", "ridge", "dense")
POUND_FORCE_N = 4.4482216152605  # NIST SP 811 (2008), appendix B.8
POUND_KG = 0.45359237  # NIST SP 811 (2008), appendix B.8


def units_of(name: str) -> Units:
    return "metric" if name == "ridge" else "us"


def body(pages: list[str]) -> str:
    return " ".join(pages)


@pytest.mark.parametrize("name", NAMES)
def test_every_step_has_its_card_and_its_stop_triggers(cases, pages, name: str) -> None:
    """Heading, stop triggers, what to watch and the step count stand on one page: a card is never split."""
    steps = cases[name].cuts.chosen.steps
    verbs = {"cut": "Cut", "place": "Set", "remove": "Take away"}
    for step in steps:
        own = [page for page in pages[name] if f"Step {step.n} of {len(steps)}, about" in page]
        assert len(own) == 1
        assert f"{verbs[step.action]} {step.piece}" in own[0]
        assert all(trigger in own[0] for trigger in step.stop)
        assert all(words in own[0] for words in step.watch)
        assert step.method in own[0]


@pytest.mark.parametrize("name", NAMES)
def test_every_support_stands_in_the_table_with_its_numbers(cases, pages, name: str) -> None:
    """Likely value, range and bound of each support, by the same rounding as on the drawings."""
    table = next(page for page in pages[name] if page.startswith("What holds the tree up"))
    units = units_of(name)
    for support in cases[name].hold.supports:
        assert support.id in table
        if support.gap_m is not None:
            assert u.small(support.gap_m.likely, units) in table
            continue
        assert support.state in table
        likely, _, rest = u.force_range(support.force_N, units).partition(" (")
        assert likely in table
        assert rest.removesuffix(")") in table
        assert u.force(support.cannot_exceed_N, units) in table


@pytest.mark.parametrize("name", NAMES)
def test_cards_show_forces_before_and_after(cases, pages, name: str) -> None:
    """Every support of the step, and the load on the building before, at worst and after."""
    steps, units = cases[name].cuts.chosen.steps, units_of(name)
    for step in steps:
        card = next(page for page in pages[name] if f"Step {step.n} of {len(steps)}, about" in page)
        for force in (*step.forces_before.values(), *step.forces_after.values(), step.building_before_N,
                      step.building_after_N, step.building_peak_N):  # fmt: skip
            assert u.force_range(force, units).partition(" (")[0] in card
        assert all(name_ in card for name_ in {**step.forces_before, **step.forces_after})
        if step.action == "cut":
            assert u.mass_range(step.mass_kg, units).partition(" (")[0] in card


def test_pounds_on_paper_are_the_newtons_of_the_result(cases, pages) -> None:
    """Headline pounds times the published factor are the result, within half of the last digit kept."""
    cover, found = pages["garage"][0], cases["garage"]
    shown = [float(text.replace(",", "")) for text in re.findall(r"([\d,]+) lb", cover)]
    pairs = [tuple(float(t.replace(",", "")) for t in pair) for pair in re.findall(r"([\d,]+) to ([\d,]+)", cover)]
    heaviest = max((s.mass_kg for s in found.cuts.chosen.steps), key=lambda mass: mass.likely)
    for value, factor in (
        (found.weigh.total_kg, POUND_KG),
        (found.hold.building_N, POUND_FORCE_N),
        (found.cuts.chosen.peak_building_N, POUND_FORCE_N),
        (heaviest, POUND_KG),
    ):
        low, likely, high = (v / factor for v in (value.low, value.likely, value.high))
        assert any(abs(number - likely) <= half_step(likely) for number in shown)
        assert any(abs(a - low) <= half_step(low) and abs(b - high) <= half_step(high) for a, b in pairs)


def half_step(pounds: float) -> float:
    """Half of the step shown: to 5 lb below 500, to 10 below 5,000, to 50 above."""
    return (5 if pounds < 500 else 10 if pounds < 5000 else 50) / 2 + 1e-9


@pytest.mark.parametrize("name", [*NAMES, "no plan", "bare", "one step", "twenty steps"])
def test_every_page_says_what_it_belongs_to(cases, pages, name: str) -> None:
    """Title, day and page x of y on all pages."""
    count = len(pages[name])
    for k, page in enumerate(pages[name], 1):
        assert f"Page {k} of {count}" in page
        assert cases[name].job.job.title in page
        assert "28 March 2026" in page


@pytest.mark.parametrize("name", [*NAMES, "no plan", "bare"])
def test_words_that_promise_too_much_are_not_printed(pages, name: str) -> None:
    """Neither "safe" nor "approved", anywhere."""
    text = body(pages[name]).lower()
    assert not re.search(r"\b(safe|safely|approved)\b", text)


def test_hazards_of_the_site_are_on_the_cover(pages) -> None:
    """Live wire with its distance, gas of unknown state, people, roof, root plate, drop zone; the advice caution."""
    cover = pages["garage"][0]
    for words in ("Power: LIVE, 35 ft away", "Gas: state not known", "People: all out", "Root plate:", "Drop zone:",
                  "Crane pick:", "The qualified person on site decides"):  # fmt: skip
        assert words in cover
    assert "NOT all out" not in cover


def test_cover_leads_with_the_way_of_working(pages) -> None:
    """Method in one line, crew, lead, hospital."""
    cover = pages["garage"][0]
    assert "With props: 9 cuts in 11 steps, about 4 h" in cover
    assert all(words in cover for words in ("Dana Ruiz", "Sam Ito", "County General", "Held where it lies"))


def test_props_are_listed_with_their_checks(cases, pages) -> None:
    """Timber, foot, tightness, demand and capacity of each check."""
    page = next(p for p in pages["garage"] if p.startswith("Secure first"))
    place = cases["garage"].cuts.chosen.places[0]
    assert place.timber in page
    assert place.tightness in page
    for _, demand, capacity, source in place.checks:
        assert u.force(demand, "us") in page
        assert u.force(capacity, "us") in page
        assert source in page


def test_filled_in_values_carry_their_status_weakest_first(pages) -> None:
    """Every filled-in value with its status word, in the order from memory, common practice, estimate, confirmed."""
    page = next(p for p in pages["garage"] if p.startswith("What was filled in"))
    for words in ("from memory", "common practice", "estimate", "confirmed", "an invented table", "Wood Handbook"):
        assert words in page
    rows = [page.index(value) for value in ("85 lb", "300 N/mm", "2 in not measured", "Wood Handbook")]
    assert rows == sorted(rows)


def test_alternatives_and_first_cuts_stand_side_by_side(cases, pages) -> None:
    """The other way with its dead end, and every first cut with its word."""
    text = body(pages["garage"])
    assert "by crane" in text
    assert "no crane was entered" in text
    assert all(cut.piece in text for cut in cases["garage"].cuts.next_cuts)
    assert "outside" in text


def test_no_plan_has_no_cards_and_nothing_to_sign(cases, pages) -> None:
    """The dead end and what opens it on the cover; no card, no tick for a step, no signature of the crew."""
    text, cover = body(pages["no plan"]), pages["no plan"][0]
    plan = cases["no plan"].cuts.chosen
    assert "DO NOT CUT" in cover
    assert plan.dead_end in cover
    assert all(way in cover for way in plan.opens)
    assert "STOP IF" not in text
    assert "Step 1 of" not in text
    assert "Read before signing" not in text
    assert "What holds the tree up" in text


def test_signature_comes_last(pages) -> None:
    """Names of lead and crew on the last page, under "Read before signing", with the number of pages."""
    last = pages["garage"][-1]
    assert "Read before signing" in last
    assert f"all {len(pages['garage'])} pages" in last
    assert all(name in last for name in ("Dana Ruiz", "Sam Ito", "Lee Brandt"))


def test_missing_facts_leave_lines_to_write_on(pages) -> None:
    """A job with only title and tree prints all its steps."""
    text = body(pages["bare"])
    assert "not entered: write it here" in text
    assert "not said whether all are out" in text
    assert "Step 5 of 5, about" in text
