"""How wide a line of text is, on the wide side, so that what fits here fits in every font the sheets fall back to.

Advance widths in thousandths of the size for the printable ASCII characters: the larger of DejaVu Serif and Liberation
Serif, measured from the fonts' own tables (hmtx), about a fifth more than Libertinus Serif, which prints.
"""

from __future__ import annotations

from typing import NamedTuple

# fmt: off
_REGULAR = (
    318, 402, 460, 838, 636, 950, 890, 275, 390, 390, 500, 838, 318, 338, 318, 337, 636, 636, 636, 636, 636, 636, 636,
    636, 636, 636, 337, 337, 838, 838, 838, 536, 1000, 722, 735, 765, 802, 730, 694, 799, 872, 395, 401, 747, 664, 1024,
    875, 820, 673, 820, 753, 685, 667, 843, 722, 1028, 722, 722, 695, 390, 337, 390, 838, 500, 500, 596, 640, 560, 640,
    592, 370, 640, 644, 320, 310, 606, 320, 948, 644, 602, 640, 640, 478, 513, 402, 644, 565, 856, 564, 565, 527, 636,
    337, 636, 838,
)
_BOLD = (
    348, 439, 555, 838, 696, 1000, 903, 306, 473, 473, 523, 838, 348, 415, 348, 365, 696, 696, 696, 696, 696, 696, 696,
    696, 696, 696, 369, 369, 838, 838, 838, 586, 1000, 776, 845, 796, 867, 762, 710, 854, 945, 468, 500, 869, 703, 1107,
    914, 871, 752, 871, 831, 722, 744, 872, 776, 1123, 776, 722, 730, 473, 365, 473, 838, 500, 500, 648, 699, 609, 699,
    636, 430, 699, 727, 380, 362, 693, 380, 1058, 727, 667, 699, 699, 527, 563, 462, 727, 581, 861, 596, 581, 568, 643,
    364, 643, 838,
)
# fmt: on
_OTHER = 1000  # any character outside ASCII
_MONO = 602  # DejaVu Sans Mono
ASCENT, DESCENT = 0.93, 0.24  # of the size, DejaVu Serif
LEADING = 1.22  # line to line


class Box(NamedTuple):
    """A rectangle on the sheet, y downward."""

    x0: float
    y0: float
    x1: float
    y1: float

    def grown(self, by: float) -> Box:
        """This box with a margin all round."""
        return Box(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def meets(self, other: Box) -> bool:
        """True when the two share some area."""
        return self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1


def text_width(text: str, size: float, bold: bool = False, mono: bool = False) -> float:
    """Width of a line of text, never less than it is drawn."""
    table = _BOLD if bold else _REGULAR
    total = 0
    for character in text:
        plain = 32 <= ord(character) < 127
        total += (_MONO if mono else table[ord(character) - 32]) if plain else _OTHER
    return total * size / 1000


def text_box(x: float, y: float, text: str, size: float, anchor: str = "start", bold: bool = False,
             mono: bool = False) -> Box:  # fmt: skip
    """Box of a line of text whose baseline starts, centres or ends at x, y."""
    width = text_width(text, size, bold, mono)
    left = x - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
    return Box(left, y - ASCENT * size, left + width, y + DESCENT * size)


def wrapped(text: str, size: float, width: float, bold: bool = False, cut: bool = True) -> list[str]:
    """The text broken into lines no wider than the width; a word too long for a line is cut, or else goes on in the
    next."""
    lines: list[str] = []
    current = ""
    for word in text.split():
        longer = f"{current} {word}".strip()
        if text_width(longer, size, bold) <= width:
            current = longer
            continue
        parts = [shortened(word, size, width, bold)] if cut else _parts(word, size, width, bold)
        lines += [*([current] if current else []), *parts[:-1]]
        current = parts[-1]
    return [*lines, current] if current else lines


def _parts(word: str, size: float, width: float, bold: bool) -> list[str]:
    """A word in pieces no wider than the width, a character each at least."""
    parts = [word[0]]
    for character in word[1:]:
        if text_width(parts[-1] + character, size, bold) <= width:
            parts[-1] += character
        else:
            parts.append(character)
    return parts


def shortened(text: str, size: float, width: float, bold: bool = False, mono: bool = False) -> str:
    """The text, cut with "..." when it is wider than the width."""
    if text_width(text, size, bold, mono) <= width:
        return text
    while text and text_width(text + "...", size, bold, mono) > width:
        text = text[:-1]
    return text.rstrip() + "..."
