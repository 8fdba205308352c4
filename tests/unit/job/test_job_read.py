"""Reading, writing and describing jobs."""

from __future__ import annotations

import datetime
import json
import math
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bolewright.job.faults import JobFaults
from bolewright.job.migrate import migrate
from bolewright.job.model import Job
from bolewright.job.read import load, loads
from bolewright.job.schema import job_schema
from bolewright.job.shape import slots, walk
from bolewright.job.work import Timber
from bolewright.job.write import dump


def as_json(text: str) -> str:
    """The same job as JSON."""
    return json.dumps(tomllib.loads(text), default=str)


def test_values_arrive_in_si(full: str) -> None:
    """Lengths by 0.3048 m to the foot, by hand."""
    job = loads(full)
    assert job.tree.stem[1].at.likely == pytest.approx(31 * 0.3048)
    assert job.tree.stem[1].diameter.low == pytest.approx(21 * 0.0254)
    assert job.tree.density is not None
    assert (job.tree.density.low, job.tree.density.high) == (800.0, 900.0)
    assert job.tree.bearing is not None
    assert job.tree.bearing.likely == pytest.approx(math.radians(75))
    assert job.line[0].anchor.right.likely == pytest.approx(-6.096)
    assert job.support[0].stiffness == "rigid"
    assert job.support[0].normal == (0.0, 0.2, 1.0)
    assert job.job.date == datetime.date(2026, 3, 28)
    assert [clock for clock, _ in job.tree.decay[0].shells] == [3.0, 6.5, 12.0]
    assert [clock for clock, _ in job.tree.decay[1].shells] == [12.0]


def test_the_sample_uses_every_field(full: str) -> None:
    """So that a field forgotten here cannot hide from the round trip below."""
    raw = tomllib.loads(full)
    keys = json.dumps(raw, default=str)
    for table in (Job, *(inside for _, _, inside in walk(Job))):
        for key in slots(table):
            assert f'"{key}"' in keys or key == "hinge" or (key, table.__name__) == ("share", "Hinge"), key


def test_toml_and_json_are_the_same_job(full: str) -> None:
    """By content, not by the name of the file."""
    assert loads(as_json(full)) == loads(full)


def test_round_trip_keeps_text_and_what_was_not_given(full: str) -> None:
    """Written and read again: equal, with the same fields left out."""
    job = loads(full)
    again = loads(dump(job))
    assert again == job
    assert again.model_fields_set == job.model_fields_set
    assert again.handling.model_fields_set == job.handling.model_fields_set
    assert 'diameter = "22 in ± 1 in"' in dump(job)


def test_files_with_windows_marks(full: str, tmp_path: Path) -> None:
    """A byte order mark and carriage returns do no harm."""
    file = tmp_path / "job.toml"
    file.write_bytes(b"\xef\xbb\xbf" + full.replace("\n", "\r\n").encode())
    assert load(file) == loads(full)


@pytest.mark.parametrize(
    ("text", "shape", "width", "depth", "nominal"),
    [
        ("4x4", "sawn", 0.1016, 0.1016, True),
        ("2x6", "sawn", 0.0508, 0.1524, True),
        ("6 X 2", "sawn", 0.0508, 0.1524, True),
        ("100 x 150 mm", "sawn", 0.1, 0.15, False),
        ("round 8 in", "round", 0.2032, 0.2032, False),
    ],
)
def test_timber(full: str, text: str, shape: str, width: float, depth: float, nominal: bool) -> None:
    """Sides as written, smaller first."""
    section: Timber = loads(full.replace('"4x4"', f'"{text}"')).truck[0].section
    assert (section.text, section.shape, section.nominal) == (text, shape, nominal)
    assert (section.width, section.depth) == pytest.approx((width, depth))


lengths = st.builds(
    lambda number, unit, spread: f"{number} {unit}{spread}",
    st.decimals(min_value="0.2", max_value="2.9", places=2),
    st.sampled_from(["m", "ft", "yd"]),
    st.sampled_from(["", " ± 1 cm", " +- 2 %"]),
)
texts = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=60)


@given(
    st.lists(st.tuples(lengths, lengths, st.floats(0, 12)), max_size=5),
    texts,
    st.lists(texts, max_size=3),
    st.one_of(st.none(), st.booleans()),
)
def test_any_job_round_trips(
    limbs: list[tuple[str, str, float]], title: str, crew: list[str], out: bool | None
) -> None:
    """Random limbs, names with any letter in them, and things left out."""
    raw: dict[str, Any] = {
        "schema": 1,
        "job": {"title": title, "crew": crew, **({} if out is None else {"people_out": out})},
        "tree": {
            "species": title,
            "attached": "free",
            "stem": [{"at": "0 m", "diameter": "3 m"}, {"at": "30 m", "diameter": "3 m"}],
            "limb": [
                {"id": f"L{n}", "at": at, "clock": clock, "angle": "50°", "length": length, "diameter": "5 cm"}
                for n, (at, length, clock) in enumerate(limbs)
            ],
        },
    }
    job = loads(json.dumps(raw))
    assert loads(dump(job)) == job


def test_schema_is_valid_and_takes_the_sample(full: str) -> None:
    """Draft 2020-12, by the jsonschema library."""
    schema = job_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(json.loads(as_json(full)))
    assert json.dumps(schema)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"40 in"', "40"),
        ('attached = "root plate"', 'attached = "glued"'),
        ("clock = 3\n", "clock = 13\n"),
        ("foliage", "folage"),
        ("schema = 1", "schema = 2"),
        ("count = 6", "count = 0"),
        ('species = "silver maple"', ""),
    ],
)
def test_schema_refuses_what_the_models_refuse(full: str, old: str, new: str) -> None:
    """The schema is not a blank cheque."""
    bad = full.replace(old, new, 1)
    assert not jsonschema.Draft202012Validator(job_schema()).is_valid(json.loads(as_json(bad)))
    with pytest.raises(JobFaults):
        loads(bad)


def test_migration_chain() -> None:
    """A step for each version, in order; the newest is left alone."""
    steps = {1: lambda raw: {**raw, "a": 1}, 2: lambda raw: {**raw, "b": raw["a"] + 1}}
    assert migrate({"schema": 1}, steps, newest=3) == {"schema": 3, "a": 1, "b": 2}
    assert migrate({"schema": 3}, steps, newest=3) == {"schema": 3}
    with pytest.raises(JobFaults, match="bring the program up to date"):
        migrate({"schema": 4}, steps, newest=3)
    with pytest.raises(JobFaults, match="There is no schema 0"):
        migrate({"schema": 0}, steps, newest=3)


def test_models_load_without_pint() -> None:
    """pint takes a fifth of a second: it is loaded with the first unit, not with the program."""
    code = "import sys, bolewright.job.read, bolewright.job.schema; assert 'pint' not in sys.modules"
    subprocess.run([sys.executable, "-c", code], check=True)
