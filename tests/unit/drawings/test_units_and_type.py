"""Rounded words against exact conversions, and text widths against the fonts themselves."""

from __future__ import annotations

from pathlib import Path

import pytest

from bolewright.core.base.range import Range
from bolewright.drawings import units as u
from bolewright.drawings.type_widths import shortened, text_width, wrapped

FONTS = Path("/usr/share/fonts/truetype")
SAMPLE = "near eave: carries 1,240 lb (980 to 1,560) cannot exceed WMQ @%& jumps over lazy dog; L3.1 'kerf'"


@pytest.mark.parametrize(
    ("newtons", "us", "metric"),
    [
        (5515.8, "1,240 lb", "5.5 kN"),  # 1 lbf = 4.4482216152605 N (NIST SP 811, B.8)
        (0.0, "0 lb", "0.00 kN"),
        (44482.2, "10,000 lb", "44.5 kN"),
        (-222.4, "-50 lb", "-0.22 kN"),
        (float("inf"), "no bound", "no bound"),
    ],
)
def test_forces(newtons: float, us: str, metric: str) -> None:
    """Pounds-force and kilonewtons."""
    assert u.force(newtons, "us") == us
    assert u.force(newtons, "metric") == metric


def test_ranges() -> None:
    """Likely first, low and high in brackets, one number where rounding leaves no range."""
    lb = 4.4482216152605
    assert u.force_range(Range(980 * lb, 1240 * lb, 1560 * lb), "us") == "1,240 lb (980 to 1,560)"
    assert u.mass_range(Range.exact(100.0), "us") == "220 lb"  # 1 lb = 0.45359237 kg (NIST SP 811, B.8)
    assert u.mass_range(Range(90.0, 100.0, 112.0), "metric") == "100 kg (90 to 110)"


@pytest.mark.parametrize(
    ("metres", "us"),
    [(4.4196, "14 ft 6 in"), (0.3048, "1 ft"), (0.0254, "1 in"), (3.6575, "12 ft"), (-0.6096, "-2 ft"), (0.0, "0 in")],
)
def test_lengths(metres: float, us: str) -> None:
    """Feet and inches; 1 ft = 0.3048 m exactly (NIST SP 811, B.8)."""
    assert u.length(metres, "us") == us


@pytest.mark.parametrize(
    ("metres", "us"),
    [(0.003175, "1/8 in"), (0.0015875, "1/16 in"), (0.0381, "1 1/2 in"), (0.0, "0 in"), (0.0889, "3 1/2 in")],
)
def test_small_movements(metres: float, us: str) -> None:
    """Fractions of an inch in lowest terms."""
    assert u.small(metres, "us") == us
    assert u.small(0.0127, "metric") == "13 mm"


@pytest.mark.parametrize(
    ("hours", "words"), [(12, "12 o'clock"), (0, "12 o'clock"), (4.5, "4:30"), (11.9, "12 o'clock")]
)
def test_clock(hours: float, words: str) -> None:
    """Clock positions to the half hour."""
    assert u.clock(hours) == words


@pytest.mark.parametrize(
    ("file", "bold", "mono"),
    [
        ("dejavu/DejaVuSerif.ttf", False, False),
        ("dejavu/DejaVuSerif-Bold.ttf", True, False),
        ("liberation/LiberationSerif-Regular.ttf", False, False),
        ("dejavu/DejaVuSansMono.ttf", False, True),
    ],
)
def test_widths_are_never_less_than_the_font(file: str, bold: bool, mono: bool) -> None:
    """The table against the font rendered at a large size, where the font is installed."""
    image_font = pytest.importorskip("PIL.ImageFont")
    if not (FONTS / file).is_file():
        pytest.skip(f"{file} is not installed")
    font = image_font.truetype(str(FONTS / file), 1000)
    for text in (SAMPLE, SAMPLE.upper(), SAMPLE[20:50]):
        drawn = font.getlength(text, features=["-kern"]) if image_font.core.HAVE_RAQM else font.getlength(text)
        assert text_width(text, 1000, bold, mono) >= drawn * 0.999


def test_wrapping_and_shortening() -> None:
    """Lines fit the width, words too long are cut with three dots."""
    for line in wrapped(SAMPLE + " " + "x" * 80, 12, 140):
        assert text_width(line, 12) <= 140
    assert shortened("short", 12, 200) == "short"
    assert shortened("x" * 80, 12, 100).endswith("...")
