"""Words of a briefing: text made fit for paper, ranges apart, movements and times in words."""

from __future__ import annotations

import math

import pytest

from bolewright.core.base.range import Range
from bolewright.documents.briefing import words as w
from bolewright.documents.text import BREAK, LONGEST_WORD, all_on_paper, on_paper, shortened, without_tables
from bolewright.planning.results import Motion

NO = (0.0, 0.0, 0.0)


def test_text_on_paper_is_one_line_without_steering_signs() -> None:
    """Line ends become blanks; control, format and private signs go; letters of any script stay."""
    assert on_paper("a\nb\t c") == "a b c"
    assert on_paper("in\u202evisible\u0007\ue000") == "invisible"
    assert on_paper("שלום Ünï 日本") == "שלום Ünï 日本"


def test_no_table_of_the_job_file_on_paper() -> None:
    """People with a paper in their hand have no file; text in brackets that is no table stays."""
    assert without_tables("Enter it in [access].") == "Enter it in “access”."
    assert without_tables("an [[access.leg]] for each") == "an “access, leg” for each"
    assert without_tables("gusts [m/s] of 3") == "gusts [m/s] of 3"


def test_long_words_get_places_to_break() -> None:
    """Nothing is lost, and no run without a break is longer than allowed."""
    word = "x" * 200
    broken = on_paper(word)
    assert broken.replace(BREAK, "") == word
    assert max(map(len, broken.split(BREAK))) <= LONGEST_WORD
    assert on_paper("x" * LONGEST_WORD) == "x" * LONGEST_WORD


def test_shortened_text_says_so() -> None:
    """An ellipsis where something is missing."""
    assert shortened("short", 10) == "short"
    assert shortened("rather a long title", 10) == "rather a…"


def test_nested_data_keeps_drawings_as_they_are() -> None:
    """Texts at any depth are cleaned, drawings and numbers left alone."""
    data = {"svg": "<svg>\n</svg>", "rows": [("a\nb", 3, None)]}
    assert all_on_paper(data) == {"svg": "<svg>\n</svg>", "rows": [["a b", 3, None]]}


@pytest.mark.parametrize(
    ("newtons", "pair"),
    [
        (Range(4448.2216, 8896.4432, 13344.6648), ("2,000 lb", "1,000 to 3,000")),  # 1 lbf = 4.4482216 N, NIST SP 811
        (Range.exact(4448.2216), ("1,000 lb", "")),
    ],
)
def test_force_apart_from_its_range(newtons: Range, pair: tuple[str, str]) -> None:
    """The likely value with its unit, the ends without."""
    assert w.force(newtons, "us") == pair


def test_density_in_both_systems() -> None:
    """1000 kg/m3 is 62.4 lb/ft3 (NIST SP 811, appendix B.8)."""
    assert w.density(Range.exact(1000.0), "us").startswith("62 lb/ft³")
    assert w.density(Range(930.0, 1000.0, 1070.0), "metric") == "1,000 kg/m³ (930 to 1,070)"


def test_energy_in_foot_pounds() -> None:
    """1 ft-lb is 1.3558 J (NIST SP 811, appendix B.8)."""
    assert w.energy(Range(67.79, 135.58, 271.16), "us") == "100 ft-lb (50 to 200)"
    assert w.energy(Range.exact(20.0), "metric") == "20 J"


def test_kerf_says_which_way() -> None:
    """Minus closes, with how far and, where it may open, how far that; what opens is no sign to steer by."""
    assert w.kerf(Range(-4.0, -3.0, -2.0), "metric") == "closes 3 mm (2 to 4)"
    assert w.kerf(Range(2.0, 3.0, 4.0), "metric") == "stays open"
    assert w.kerf(Range(-1.0, 3.0, 5.0), "metric") == "stays open; it may close 1 mm"
    assert w.kerf(Range(-5.0, -3.0, 1.0), "metric") == "closes 3 mm (5 at most; or opens, 1 mm at most)"


def test_movement_says_how_far_and_onto_what() -> None:
    """Held is one word; a fall without an end says that nothing was found to stop it."""
    assert w.moved(Motion("held", "held", NO, NO, 0.0, ""), "us") == "held"
    drop = Motion("butt drops", "drops", NO, NO, 0.3048, "lawn")
    assert w.moved(drop, "us") == "butt drops, about 1 ft, until it rests on lawn"
    assert w.moved(Motion("rolls left", "rolls", NO, NO, None, ""), "us") == "rolls left, nothing found that stops it"


def test_bound_of_a_support() -> None:
    """A number, "no bound" where nothing bounds it, a dash where it does not touch."""
    assert w.bound(math.inf, True, "us") == "no bound"
    assert w.bound(math.nan, False, "us") == "–"


def test_change_is_more_or_less_of_a_positive_number() -> None:
    """A relief reads "less", with its range turned round too."""
    assert w.change(Range(-3000.0, -2000.0, -1000.0), "metric") == "2.0 kN less (1.0 to 3.0)"
    assert w.change(Range(-1.0, 0.0, 1.0), "metric") == "no change"


@pytest.mark.parametrize(("minutes", "words"), [(0, "15 min"), (50, "45 min"), (60, "1 h"), (105, "1 h 45 min")])
def test_durations_go_by_quarters(minutes: float, words: str) -> None:
    """Never less than a quarter of an hour."""
    assert w.duration(minutes) == words


def test_place_on_a_member() -> None:
    """The butt for the stem, its base for a limb, and no "0 in"."""
    assert w.place_on("stem", 0.3048, "us") == "stem, 1 ft from the butt"
    assert w.place_on("L3", 0.0, "us") == "L3, at its base"
