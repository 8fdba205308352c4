"""The fields of a standing tree's pages: its size, what was tested, wind and targets, judgement, failure, letter."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

from bolewright.web.cells import Field, Section, section

SIDES = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
BY_KIND: dict[str, tuple[str, ...]] = {
    "sounding": ("sound",),
    "probe": ("depth",),
    "drilling": ("shell", *(f"shells.{side}" for side in SIDES)),
    "opening": ("width",),
    "pull": ("pull", "tilt"),
}
EVERY_TEST = ("id", "height", "side", "diameter", "note", "photo")


def _small(found: Section, *keys: str) -> Section:
    """The section with these lengths taken in inches or centimetres."""
    return _in(found, "in", "cm", *keys)


def _in(found: Section, us: str, metric: str, *keys: str) -> Section:
    fields = (replace(f, unit_us=us, unit_metric=metric) if f.key in keys else f for f in found.fields)
    return replace(found, fields=tuple(fields))


def _wide(found: Section, *keys: str) -> Section:
    """The section with room to write in these."""
    return replace(found, fields=tuple(replace(f, kind="long") if f.key in keys else f for f in found.fields))


def _roomy(found: Section, *keys: str) -> Section:
    """The section with the room of several cells for these."""
    return replace(found, fields=tuple(replace(f, roomy=True) if f.key in keys else f for f in found.fields))


def _with_ring(found: Section) -> Section:
    """The section with a cell for the sound wood on each of eight sides, after that of one hole."""
    hint = "depth of sound wood under the bark on this side"
    ring = tuple(Field(f"shells.{side}", f"Sound {side}", "amount", hint, (), "in", "cm") for side in SIDES)
    after = [f.key for f in found.fields].index("shell") + 1
    return replace(found, fields=(*found.fields[:after], *ring, *found.fields[after:]))


@cache
def size_sections() -> tuple[Section, ...]:
    """The tree as a tape, a clinometer and pacing give it."""
    stem = section("tree.stem", "Stem, from the ground up", "One row a place. Diameters include the bark.",
                   "at diameter", "place")  # fmt: skip
    standing = section(
        "standing", "As it stands", "Height, crown and lean; sides are compass directions.",
        "height crown_width crown_base crown_shape crown_filled crown_offset crown_towards lean lean_towards sweep",
    )  # fmt: skip
    roots = section(
        "standing", "Roots and ground", "What is known of them. Leave out what is not.",
        "rooting soil_state roots_lost trench plate_diameter plate_depth",
    )  # fmt: skip
    return (
        section("tree", "The tree", "What it is. Bearing is the side from which clock positions count.",
                "species dbh bearing density"),
        standing,
        stem,
        section("tree.limb", "Limbs worth naming", "Looking up the stem with the bearing in front: 6 is that side.",
                "id on at clock angle length diameter foliage", "limb", folded=True),
        replace(roots, id="roots"),
    )  # fmt: skip


@cache
def seen_sections() -> tuple[Section, ...]:
    """Who looked, for what and from where, and the observations with their details."""
    return (
        _wide(section("inspection", "The inspection", "What could not be seen goes to the first page of the report.",
                      "date inspector assignment limits"), "limits"),
        section("inspection.observation", "Seen", "", "side height size note photo", "observation"),
        _small(section("inspection.union", "Unions of named limbs", "Name the limb on the page Measure first.",
                       "limb form bark split note photo", "union"), "split"),
    )  # fmt: skip


@cache
def tests_sections() -> tuple[Section, ...]:
    """Tests of the wood and of the roots."""
    found = section("inspection.test", "Tests", "",
                    "id height side diameter sound depth shell width pull tilt note photo", "test")  # fmt: skip
    return (_roomy(_with_ring(_small(found, "depth", "shell", "width", "diameter")), "id"),)


@cache
def wind_sections() -> tuple[Section, ...]:
    """The wind it is held against and what it could hit."""
    gust = section(
        "standing", "Wind and season", "The gust it is to stand, as a weather station in open country shows it.",
        "design_gust design_gust_is wind_from terrain wind_form season ice neighbours shelter",
    )  # fmt: skip
    gust = _in(_small(gust, "ice"), "mph", "m/s", "design_gust")
    return (
        replace(gust, id="wind"),
        section("target", "What it could hit", "From the foot of the tree to its near side.",
                "id what distance towards height occupancy protection movable", "target"),
    )  # fmt: skip


@cache
def judge_sections() -> tuple[Section, ...]:
    """The assessor's choices."""
    own = section("rating", "Your judgement", "You choose every word. Nothing here is worked out from the numbers.",
                  "part target failure impact consequences time_frame reinspect why")  # fmt: skip
    pair = section("rating.pair", "Further parts and targets",
                   "One row for every other part that could fail and what it would hit; each is rated by itself.",
                   "id part target failure impact consequences why", "pair", folded=True)  # fmt: skip
    option = section("rating.option", "What could be done", "For each, what you choose for what would be left.",
                     "id kind by part at target failure impact consequences reinspect note", "option")  # fmt: skip
    left = section("rating.left", "What an option leaves of a further pair", "The pair's name and the option's.",
                   "option pair failure impact consequences", "line", folded=True)  # fmt: skip
    return (
        _roomy(own, "part"),
        _roomy(pair, "id", "part"),
        _roomy(option, "id"),
        _roomy(left, "option", "pair"),
    )


@cache
def lookback_sections() -> tuple[Section, ...]:
    """After a failure: as found and measured, and apart from it what is made of it."""
    found = section(
        "failure", "What failed", "As found and measured. What you make of it stands last, by itself.",
        "kind limb date height diameter fell_towards shell opening opening_side roots_rotten surface gust gust_is "
        "station station_distance wind_from photo evidence opinion",
    )  # fmt: skip
    found = _in(_small(found, "shell", "opening", "diameter"), "mph", "m/s", "gust")
    found = _in(found, "mi", "km", "station_distance")
    roots = section("failure.root", "Roots of the broken plate, one by one", "In place of the share above.",
                    "side diameter state photo", "root", folded=True)  # fmt: skip
    evidence = _wide(
        section("failure.exhibit", "Evidence, piece by piece", "Each with where it is kept and its photographs.",
                "what kind photo kept note", "piece"), "kept", "note")  # fmt: skip
    return (_with_ring(_wide(found, "surface")), evidence, roots)


@cache
def letter_sections() -> tuple[Section, ...]:
    """The letter to the owner of the tree, how it went out, what came back."""
    return (
        _roomy(_wide(section("notice", "Letter to the owner of the tree",
                             "It tells what was seen and asks; it carries no rating.",
                             "to sender position ask answer_by contact enclosure", folded=True), "position"),
               "contact"),
        _roomy(section("notice.delivery", "How the letter went out", "A line for each way.", "date how to reference",
                       "delivery", folded=True), "to", "reference"),
        section("notice.reply", "What came back", "As nearly in their words as can be.", "date by how said", "reply",
                folded=True),
    )  # fmt: skip


def standing_pages() -> dict[str, Callable[[], tuple[Section, ...]]]:
    """The sections of each page of a standing tree, by the page's address name."""
    return {
        "size": size_sections, "seen": seen_sections, "tests": tests_sections, "wind": wind_sections,
        "judge": judge_sections, "lookback": lookback_sections, "papers": letter_sections,
    }  # fmt: skip


def standing_sections() -> tuple[Section, ...]:
    """Every section of those pages."""
    return tuple(part for sections in standing_pages().values() for part in sections())
