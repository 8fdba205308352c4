"""Every way a job can be wrong: all faults at once, each with its place and one plain sentence, never a traceback."""

from __future__ import annotations

import io
import json
import random
import string
import sys
import time
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bolewright.job.faults import Fault, JobFaults
from bolewright.job.guards import LARGEST_FILE
from bolewright.job.read import from_tables, load, loads

GOOD = """
schema = 1
[job]
title = "Oak on the porch"
[tree]
species = "white oak"
density = "950 kg/m3"
attached = "free"
[[tree.stem]]
at = "0 ft"
diameter = "30 in"
height = "1 ft"
[[tree.stem]]
at = "20 ft"
diameter = "20 in"
height = "8 ft"
[[tree.limb]]
id = "L1"
on = "stem"
at = "12 ft"
clock = 2
angle = "45 deg"
length = "15 ft"
diameter = "8 in"
tip_diameter = "2 in"
[[tree.limb]]
id = "L2"
on = "L1"
at = "6 ft"
clock = 10
angle = "30 deg"
length = "6 ft"
diameter = "3 in"
[[tree.decay]]
from = "0 ft"
to = "5 ft"
shell = "6 in"
[[support]]
id = "eave"
member = "stem"
at = "16 ft"
on = "roof"
friction = 0.4
[[line]]
id = "T1"
member = "stem"
at = "18 ft"
kind = "tie-back"
anchor = { forward = "-10 ft", right = "0 ft", height = "2 ft" }
[[building]]
id = "porch"
near = "14 ft"
far = "30 ft"
left = "8 ft"
right = "8 ft"
eave = "7 ft"
ridge = "10 ft"
[[cut]]
member = "L1"
at = "4 ft"
[limits]
share = 0.9
"""

Change = Callable[[dict[str, Any]], object]


def set_at(*keys: Any, to: Any) -> Change:
    """A change of one value."""

    def change(raw: dict[str, Any]) -> None:
        here: Any = raw
        for key in keys[:-1]:
            here = here[key]
        here[keys[-1]] = to

    return change


def drop(*keys: Any) -> Change:
    """A value left out."""

    def change(raw: dict[str, Any]) -> None:
        here: Any = raw
        for key in keys[:-1]:
            here = here[key]
        del here[keys[-1]]

    return change


STEM, LIMB, DECAY, SUPPORT = ("tree", "stem"), ("tree", "limb"), ("tree", "decay", 0), ("support", 0)
CASES: dict[str, tuple[Change, str, str]] = {
    # what is wrong: (change, path of the fault, words in its sentence)
    "no unit": (set_at(*STEM, 0, "diameter", to="30"), "tree.stem[0].diameter", "no unit"),
    "a bare number": (set_at(*LIMB, 0, "length", to=15), 'tree.limb["L1"].length', "15 has no unit"),
    "wrong kind": (set_at(*LIMB, 0, "angle", to="45 in"), 'tree.limb["L1"].angle', "is a length, but an angle"),
    "negative": (set_at(*LIMB, 0, "length", to="-15 ft"), 'tree.limb["L1"].length', "more than zero"),
    "zero diameter": (set_at(*STEM, 0, "diameter", to="0 in"), "tree.stem[0].diameter", "more than zero"),
    "spread below zero": (set_at(*LIMB, 1, "diameter", to="3 in ± 4 in"), 'tree.limb["L2"].diameter', "The low end"),
    "over 6 m thick": (set_at(*STEM, 0, "diameter", to="30 ft"), "tree.stem[0].diameter", "more than 6 m"),
    "over 100 m long": (set_at(*LIMB, 0, "length", to="400 ft"), 'tree.limb["L1"].length', "more than 100 m"),
    "too heavy": (set_at("tree", "density", to="1301 kg/m3"), "tree.density", "heavier than any green wood"),
    "too heavy at its high end": (set_at("tree", "density", to="1250 ± 60 kg/m3"), "tree.density", "1300 kg/m^3"),
    "too light": (set_at("tree", "density", to="149 kg/m3"), "tree.density", "lighter than any wood"),
    "friction over 2": (set_at(*SUPPORT, "friction", to=2.5), 'support["eave"].friction', "more than 2"),
    "friction below 0": (set_at(*SUPPORT, "friction", to="-0.1"), 'support["eave"].friction', "below zero"),
    "share over 1": (set_at("limits", "share", to=90), "limits.share", "the whole"),
    "share below 0": (set_at("limits", "share", to="-5 %"), "limits.share", "below zero"),
    "not a number": (set_at("limits", "share", to=float("nan")), "limits.share", "not a number"),
    "endless": (set_at(*SUPPORT, "friction", to=float("inf")), 'support["eave"].friction', "not a number"),
    "clock": (set_at(*LIMB, 0, "clock", to=13), 'tree.limb["L1"].clock', "from 0 to 12"),
    "clock not a number": (set_at(*LIMB, 0, "clock", to=float("nan")), 'tree.limb["L1"].clock', "from 0 to 12"),
    "misspelt field": (set_at(*LIMB, 0, "lenght", to="1 ft"), 'tree.limb["L1"].lenght', 'did you mean "length"'),
    "misplaced field": (set_at("species", to="oak"), "species", "it belongs in tree"),
    "misplaced table": (set_at("limb", to=[]), "limb", "it belongs in tree.limb"),
    "unknown field": (set_at("tree", "zzz", to=1), "tree.zzz", "the fields are species, density"),
    "misspelt word": (set_at(*SUPPORT, "on", to="rooof"), 'support["eave"].on', 'did you mean "roof"'),
    "missing field": (drop(*LIMB, 0, "diameter"), 'tree.limb["L1"].diameter', "This is missing"),
    "missing table": (drop("tree"), "tree", "The table [tree] is missing"),
    "one for many": (set_at("support", to={"id": "a"}), "support", "[[support]]"),
    "many for one": (set_at("tree", to=[]), "tree", "heading [tree]"),
    "yes for true": (set_at("job", "people_out", to="yes"), "job.people_out", "true or false"),
    "date": (set_at("job", "date", to="28 March"), "job.date", "year-month-day"),
    "number for text": (set_at("job", "title", to=7), "job.title", "in quotes"),
    "id with signs": (set_at(*SUPPORT, "id", to="a/b"), 'support["a/b"].id', "short name"),
    "no schema": (drop("schema"), "schema", "This is missing"),
    "schema as text": (set_at("schema", to="1"), "schema", "Write schema = 1"),
    "schema as truth": (set_at("schema", to=True), "schema", "Write schema = 1"),
    "newer schema": (set_at("schema", to=2), "schema", "bring the program up to date"),
    "unknown parent": (set_at(*LIMB, 1, "on", to="L9"), 'tree.limb["L2"].on', "There is no stem or limb called"),
    "ring of two": (set_at(*LIMB, 0, "on", to="L2"), 'tree.limb["L1"].on', "in a ring"),
    "ring of one": (set_at(*LIMB, 0, "on", to="L1"), 'tree.limb["L1"].on', "in a ring"),
    "limb beyond stem": (set_at(*LIMB, 0, "at", to="21 ft"), 'tree.limb["L1"].at', "beyond the end of the stem"),
    "limb beyond limb": (set_at(*LIMB, 1, "at", to="16 ft"), 'tree.limb["L2"].at', 'end of limb "L1"'),
    "limb too thick": (set_at(*LIMB, 1, "diameter", to="9 in"), 'tree.limb["L2"].diameter', "as thick as"),
    "tip thicker": (set_at(*LIMB, 0, "tip_diameter", to="9 in"), 'tree.limb["L1"].tip_diameter', "thicker than"),
    "limb called stem": (set_at(*LIMB, 1, "id", to="stem"), 'tree.limb["stem"].id', "name the stem"),
    "same id": (set_at(*LIMB, 1, "id", to="L1"), "tree.limb[1].id", "used twice"),
    "same id, support and line": (set_at("line", 0, "id", to="eave"), 'line["eave"].id', "used twice"),
    "stations not rising": (set_at(*STEM, 1, "at", to="0 ft"), "tree.stem[1].at", "in order from the butt"),
    "no butt": (set_at(*STEM, 0, "at", to="2 ft"), "tree.stem[0].at", "start at the butt"),
    "too steep": (set_at(*STEM, 1, "height", to="22 ft"), "tree.stem[1].height", "more than the length"),
    "too far aside": (set_at(*STEM, 1, "offset", to="20 ft"), "tree.stem[1].height", "sideways"),
    "support on no wood": (set_at(*SUPPORT, "member", to="L7"), 'support["eave"].member', "There is no stem or limb"),
    "support off the end": (set_at(*SUPPORT, "at", to="25 ft"), 'support["eave"].at', "beyond the end"),
    "line on no wood": (set_at("line", 0, "member", to="L7"), 'line["T1"].member', "There is no stem or limb"),
    "line off the end": (set_at("line", 0, "at", to="25 ft"), 'line["T1"].at', "beyond the end"),
    "cut on no wood": (set_at("cut", 0, "member", to="L7"), "cut[0].member", "There is no stem or limb"),
    "cut off the end": (set_at("cut", 0, "at", to="16 ft"), "cut[0].at", "beyond the end"),
    "cut of nothing": (set_at("cut", 0, "at", to="15 ft"), "cut[0].at", "takes nothing off"),
    "gap and hard": (lambda raw: raw["support"][0].update(gap="1 in", feel="hard"), 'support["eave"].feel', "gap of"),
    "no direction": (set_at(*SUPPORT, "normal", to=[0, 0, 0]), 'support["eave"].normal', "three numbers"),
    "shell too thick": (set_at(*DECAY, "shell", to="15 in"), "tree.decay[0].shell", "more than half the diameter"),
    "no shell at all": (set_at(*DECAY, "shell", to="0 in"), "tree.decay[0].shell", "no sound wood"),
    "shell and readings": (set_at(*DECAY, "readings", to={"12": "3 in"}), "tree.decay[0]", "either as shell or"),
    "reading not on a clock": (set_at(*DECAY, "readings", to={"up": "3 in"}), "tree.decay[0].readings", "not a clock"),
    "decay off the end": (set_at(*DECAY, "to", to="22 ft"), "tree.decay[0].to", "beyond the end"),
    "decay backwards": (set_at(*DECAY, "from", to="6 ft"), "tree.decay[0].to", "farther out than it starts"),
    "decay on no wood": (set_at(*DECAY, "member", to="L7"), "tree.decay[0].member", "There is no stem or limb"),
    "decay twice": (lambda raw: raw["tree"]["decay"].append({"from": "4 ft", "to": "6 ft", "shell": "5 in"}),
                    "tree.decay[1].from", "overlaps"),
    "root plate not described": (set_at("tree", "attached", to="root plate"), "tree.root_plate", "[tree.root_plate]"),
    "root plate not wanted": (set_at("tree", "root_plate", to={"diameter": "9 ft", "thickness": "2 ft"}),
                              "tree.attached", "take the table out"),
    "hinge not wanted": (set_at("tree", "hinge", to={}), "tree.attached", "take the table out"),
    "building backwards": (set_at("building", 0, "near", to="31 ft"), 'building["porch"].far', "farther from the butt"),
    "building without width": (set_at("building", 0, "left", to="-8 ft"), 'building["porch"].right', "nothing between"),
    "ridge below eave": (set_at("building", 0, "ridge", to="6 ft"), 'building["porch"].ridge', "lower than the eave"),
    "eaves wider than walls": (set_at("building", 0, "overhang", to="8 ft"), 'building["porch"].overhang', "no walls"),
    "timber": (set_at("truck", to=[{"section": "4 by 4", "length": "8 ft", "count": 1}]), "truck[0].section",
               "Timber is written"),
    "half a stick": (set_at("truck", to=[{"section": "4x4", "length": "8 ft", "count": 1.5}]), "truck[0].count",
                     "whole"),
}  # fmt: skip


def faults_of(call: Callable[[], object]) -> tuple[Fault, ...]:
    """The faults a call raises."""
    with pytest.raises(JobFaults) as caught:
        call()
    assert caught.value.faults
    for fault in caught.value.faults:
        assert fault.sentence.endswith((".", "?")), fault
        assert str(fault).isprintable()
        assert len(fault.sentence) < 400
    return caught.value.faults


def test_the_good_job_is_good() -> None:
    """What the cases below start from has no fault."""
    loads(GOOD)


@pytest.mark.parametrize("name", CASES)
def test_one_fault(name: str) -> None:
    """Its path and its words are among the faults, and nothing far from it is blamed."""
    change, path, words = CASES[name]
    raw = tomllib.loads(GOOD)
    change(raw)
    faults = faults_of(lambda: from_tables(raw))
    assert any(fault.path == path and words in fault.sentence for fault in faults), [str(fault) for fault in faults]
    assert len(faults) <= 4, [str(fault) for fault in faults]


def test_all_faults_come_together() -> None:
    """Misspelt, missing, wrong in itself and wrong together: one reading finds all, in the order of the file."""
    raw = tomllib.loads(GOOD)
    together = ["no unit", "misspelt field", "unknown parent", "tip thicker", "decay off the end", "line off the end",
                "ridge below eave", "cut of nothing", "share over 1", "friction over 2"]  # fmt: skip
    for name in together:
        CASES[name][0](raw)
    faults = faults_of(lambda: from_tables(raw))
    found = {fault.path for fault in faults}
    assert found == {CASES[name][1] for name in together}
    tops = [fault.path.split(".")[0].split("[")[0] for fault in faults]
    assert tops == sorted(tops, key=list(raw).index)


def test_checks_go_on_where_a_value_cannot_be_read() -> None:
    """A limb with an unreadable length still has its parent checked."""
    raw = tomllib.loads(GOOD)
    raw["tree"]["limb"][1].update(on="L9", length="long")
    assert {fault.path for fault in faults_of(lambda: from_tables(raw))} == {
        'tree.limb["L2"].on',
        'tree.limb["L2"].length',
    }


def test_what_stands_under_a_misspelt_name_is_checked() -> None:
    """[[tree.limbs]] for [[tree.limb]]: the slip is named, and what is wrong inside; nothing is called missing."""
    raw = tomllib.loads(GOOD)
    raw["tree"]["limbs"] = raw["tree"].pop("limb")
    raw["tree"]["limbs"][1]["Lenght"] = raw["tree"]["limbs"][1].pop("length") + "es"
    assert [(fault.path, fault.sentence) for fault in faults_of(lambda: from_tables(raw))] == [
        ("tree.limbs", '"limbs" is not a field here: did you mean "limb"?'),
        ('tree.limb["L2"].Lenght', '"Lenght" is not a field here: did you mean "length"?'),
        (
            'tree.limb["L2"].length',
            '"ftes" in "6 ftes" is no unit known here (did you mean "ft"?): '
            'write a length such as "46 in", "14 ft 6 in" or "1.2 m".',
        ),
    ]


def test_a_flood_of_faults_is_cut_short() -> None:
    """Hundreds are named, the rest counted."""
    raw = {**tomllib.loads(GOOD), **{f"k{n}": n for n in range(20_000)}}
    faults = faults_of(lambda: from_tables(raw))
    assert len(faults) == 501
    assert faults[-1].sentence == "There are 19500 more faults after these."


def write(folder: Path, content: bytes) -> Path:
    """A file with this content."""
    file = folder / "job.toml"
    file.write_bytes(content)
    return file


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b" \n\t\n", "empty"),
        (b"\xef\xbb\xbf", "empty"),
        (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "not a text file"),
        (b"schema = 1\x00", "not a text file"),
        (bytes(range(256)) * 10, "not a text file"),
        (GOOD.encode("utf-16"), "UTF-16"),
        (b"schema = 1\n[job]\ntitle = \"caf\xe9\"\n", "Line 3 has a character that is not UTF-8"),
        (b"schema = 1\n[job]\ntitle = Oak\n", "Line 3 cannot be read as TOML"),
        (b"schema = 1\nschema = 1\n", "written twice"),
        (b"schema = 1\n[tree.limb]\nid = 'a'\n[tree.limb]\n", "two square brackets"),
        (b"schema = 1\n[job]\ntitle = \"Oak\n", "not closed with a quote"),
        (b"schema 1\n", "name = value"),
        (b"[job\n", "square brackets"),
        (b"just some words about a tree", "Line 1 cannot be read as TOML"),
        (b'{"schema": 1, "job": }', "Line 1 cannot be read as JSON"),
        (b'{"schema": 1, "schema": 1}', "written twice"),
        (b'{"schema": NaN}', "Write schema = 1"),
        (b'{"a":' * 20_000 + b"1" + b"}" * 20_000, "nested too deeply"),
        (b'{"a":' + b"[" * 200_000, "nested too deeply"),
        (b"a = " + b"[" * 20_000, "nested too deeply"),
        (b'{"schema": ' + b"1" * 6000 + b"}", "too long"),
        (b"schema = " + b"1" * 6000, "too long"),
        (b"[1, 2]", "cannot be read"),
        (b"a." * 400_000 + b"b = 1", "too many points"),
    ],
)  # fmt: skip
def test_files_that_are_no_jobs(tmp_path: Path, content: bytes, words: str) -> None:
    """Found before anything is read into a model."""
    faults = faults_of(lambda: load(write(tmp_path, content)))
    assert any(words in fault.sentence for fault in faults), [str(fault) for fault in faults]


def test_missing_file_folder_and_odd_names(tmp_path: Path) -> None:
    """Each says what is the matter."""
    assert "There is no file" in faults_of(lambda: load(tmp_path / "none.toml"))[0].sentence
    assert "is a folder" in faults_of(lambda: load(tmp_path))[0].sentence
    assert "cannot be opened" in faults_of(lambda: load("a\x00b"))[0].sentence
    assert "cannot be opened" in faults_of(lambda: load("x" * 5000))[0].sentence


def test_large_files_are_not_read(tmp_path: Path) -> None:
    """Fifty megabytes are refused at once, with size and limit."""
    file = tmp_path / "big.toml"
    with file.open("wb") as opened:
        opened.truncate(50_000_000)
    start = time.perf_counter()
    (fault,) = faults_of(lambda: load(file))
    assert "50.0 MB" in fault.sentence
    assert "5 MB" in fault.sentence
    assert time.perf_counter() - start < 1.0


def test_standard_input(monkeypatch: pytest.MonkeyPatch) -> None:
    """ "-" reads it, and the limit holds there too."""

    class Stream:
        def __init__(self, content: bytes) -> None:
            self.buffer = io.BytesIO(content)

    monkeypatch.setattr(sys, "stdin", Stream(GOOD.encode()))
    assert load("-") == loads(GOOD)
    monkeypatch.setattr(sys, "stdin", Stream(b" " * (LARGEST_FILE + 1)))
    assert "limit is 5 MB" in faults_of(lambda: load("-"))[0].sentence
    monkeypatch.setattr(sys, "stdin", Stream(b""))
    assert "empty" in faults_of(lambda: load("-"))[0].sentence


@pytest.mark.parametrize(
    ("table", "count", "words"),
    [("limb", 5000, "5000 limbs"), ("limb", 501, "at most 500"), ("stem", 401, "401 stations")],
)
def test_too_many(table: str, count: int, words: str) -> None:
    """One fault, not thousands."""
    raw = tomllib.loads(GOOD)
    raw["tree"][table] = [raw["tree"][table][0]] * count
    (fault,) = faults_of(lambda: from_tables(raw))
    assert words in fault.sentence
    assert fault.path == f"tree.{table}"


def test_the_most_limbs_are_quick() -> None:
    """Five hundred limbs are read and checked in a moment."""
    raw = tomllib.loads(GOOD)
    limb = raw["tree"]["limb"][0]
    raw["tree"]["limb"] = [{**limb, "id": f"L{n}", "at": f"{1 + n / 50} ft"} for n in range(500)]
    loads(GOOD)
    start = time.process_time()
    from_tables(raw)
    assert time.process_time() - start < 1.0


def test_a_long_ring_is_named_briefly() -> None:
    """The sentence stays readable."""
    raw = tomllib.loads(GOOD)
    limb = {**raw["tree"]["limb"][0], "at": "1 ft"}
    raw["tree"]["limb"] = [{**limb, "id": f"L{n}", "on": f"L{(n + 1) % 400}"} for n in range(400)]
    raw["cut"] = []
    (fault,) = faults_of(lambda: from_tables(raw))
    assert "in a ring" in fault.sentence


def test_hostile_names_are_made_harmless() -> None:
    """Terminal codes and broken letters in names and values are not printed back."""
    raw = tomllib.loads(GOOD)
    raw["tree"]["\x1b[2J\ud800"] = 1
    raw["tree"]["limb"][0]["on"] = "\x1b]0;x\x07"
    raw["job"]["title"] = "\ud800"
    raw["support"][0]["friction"] = 10**5000
    raw["tree"]["limb"][1]["clock"] = 10**5000
    raw["support"][0]["on"] = "\x1b[31m"
    for fault in faults_of(lambda: from_tables(raw)):
        str(fault).encode("utf-8")


ODD: list[Any] = [
    None, True, False, 0, -1, 1, 1e308, -1e308, float("nan"), float("inf"), 10**400, "", " ", "46 in", "-3 m", "3 m",
    "1 m", "1e9 ft", "stem", "L1", "L2", "eave", "up", "rigid", "30 %", "45 deg", "ton", "±", "\x00", "\ud83d", "ﬁ", [],
    {}, [[]], [{}], {"id": "L1"}, [0, 0, 1], {"12": "3 in"}, {"": ""}, {"nan": "3 in"}, "x" * 10_000,
]  # fmt: skip


def places(raw: Any, here: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path of every value in a document."""
    found = [here] if here else []
    items = raw.items() if isinstance(raw, dict) else enumerate(raw) if isinstance(raw, list) else ()
    for key, value in items:
        found += places(value, (*here, key))
    return found


def mutate(raw: dict[str, Any], chance: random.Random) -> None:
    """One value changed, dropped, doubled, moved or added."""
    path = chance.choice(places(raw))
    parent: Any = raw
    for key in path[:-1]:
        parent = parent[key]
    act = chance.randrange(5)
    if act == 0:
        parent[path[-1]] = chance.choice(ODD)
    elif act == 1:
        del parent[path[-1]]
    elif act == 2 and isinstance(parent, list):
        parent.append(parent[path[-1]])
    elif act == 3 and isinstance(parent, dict):
        parent[chance.choice(["at", "on", "id", "length", "shell", "readings", "zzz", "", "root_plate"])] = parent[
            path[-1]
        ]
    elif isinstance(parent[path[-1]], str):
        text = list(parent[path[-1]] + " ")
        text[chance.randrange(len(text))] = chance.choice(string.printable + "±…'½")
        parent[path[-1]] = "".join(text)


def only_faults(read: Callable[[], object]) -> None:
    """A reading either works or gives faults that can be printed."""
    try:
        read()
    except JobFaults as caught:
        assert caught.faults
        str(caught).encode("utf-8")


@settings(max_examples=600)
@given(st.integers(0, 2**32), st.integers(1, 6))
def test_mutated_documents_give_faults_only(seed: int, times: int) -> None:
    """Whatever is done to a document, nothing but JobFaults comes out."""
    chance = random.Random(seed)
    raw = json.loads(json.dumps(tomllib.loads(GOOD)))
    for _ in range(times):
        if places(raw):
            mutate(raw, chance)
    only_faults(lambda: from_tables(raw))


@settings(max_examples=300)
@given(st.integers(0, 2**32))
def test_mutated_texts_give_faults_only(seed: int) -> None:
    """The same with the text: letters changed, lines dropped, doubled and cut short."""
    chance = random.Random(seed)
    text = GOOD
    for _ in range(chance.randrange(1, 5)):
        n = chance.randrange(len(text))
        text = chance.choice(
            [
                text[:n] + chance.choice(string.printable + "±\x00é") + text[n + 1 :],
                text[:n],
                text[:n] + text[n + chance.randrange(30) :],
                text[:n] + text[max(0, n - 40) :],
            ]
        )
        text = text or "x"
    only_faults(lambda: loads(text))


@settings(max_examples=200)
@given(st.recursive(st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=10),
                    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(
                        ["schema", "job", "tree", "stem", "limb", "support", "line", "decay", "id", "at", "x"]),
                        inner, max_size=5), max_leaves=30))  # fmt: skip
def test_any_tables_give_faults_only(raw: Any) -> None:
    """Tables of any shape under the names of the document."""
    only_faults(lambda: from_tables({"job": raw, "tree": raw, "support": [raw], "schema": 1, "cut": raw}))


@settings(max_examples=100)
@given(st.binary(max_size=200))
def test_any_bytes_give_faults_only(content: bytes) -> None:
    """Noise in a file."""
    from bolewright.job.guards import text_of

    only_faults(lambda: loads(text_of(content)))
