"""Inks of a drawing sheet: paper, three line weights, wood tones and one accent kept for "stop"."""

from __future__ import annotations

from dataclasses import dataclass

THIN, MEDIUM, HEAVY = 0.6, 1.2, 2.2
SERIF = "Libertinus Serif, Georgia, Liberation Serif, serif"
MONO = "DejaVu Sans Mono, monospace"
SMALL, TEXT, LARGE, TITLE = 12.0, 13.5, 16.5, 19.0  # sizes on a sheet 1200 wide


@dataclass(frozen=True)
class Ink:
    """Colours of one sheet."""

    paper: str
    panel: str
    ink: str
    quiet: str  # second lines, notes
    faint: str  # construction lines
    gone: str  # dotted outline of what is no longer there
    wood: str
    wood_shade: str
    wood_far: str
    bark: str
    building: str
    roof: str
    soil: str
    plate: str  # root plate
    stop: str


DAY = Ink(
    paper="#faf8f2", panel="#f4f0e5", ink="#1f1c18", quiet="#5a534a", faint="#b5ac9b", gone="#8d8371", wood="#dcbd8d",
    wood_shade="#c49f69", wood_far="#efe4cd", bark="#7a5730", building="#f1ece0", roof="#e6dece",
    soil="#8c7a5f", plate="#d8cbb3",
    stop="#b3261e",
)  # fmt: skip
NIGHT = Ink(
    paper="#191814", panel="#211f1a", ink="#efe8d8", quiet="#b8ae9b", faint="#5d564a", gone="#8a806f", wood="#8a6a3f",
    wood_shade="#6b5030", wood_far="#453a29", bark="#d0ab74", building="#25231d", roof="#302c24",
    soil="#94836a", plate="#4a4030",
    stop="#ff7a66",
)  # fmt: skip


def inks(night: bool) -> Ink:
    """The day or the night sheet."""
    return NIGHT if night else DAY
