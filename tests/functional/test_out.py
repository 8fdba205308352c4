"""`bolewright out`: keys, exit statuses, text, and one sentence for everything that is wrong."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.unit.planning.out_jobs import DOLLY, LOG, WHOLE
from typer.testing import CliRunner

from bolewright.cli.main import app

FORBIDDEN = ("safe to", "approved", "is safe", "insurer will pay", "policy pays", "covered by")


def run(tmp_path: Path, text: str, *options: str) -> tuple[int, str, str]:
    """Exit status, output and errors of the command on a job."""
    file = tmp_path / "job.toml"
    file.write_text(text, encoding="utf-8")
    done = CliRunner().invoke(app, ["out", str(file), *options])
    return done.exit_code, done.stdout, done.stderr


def test_json_keys_and_status(tmp_path: Path) -> None:
    status, printed, _ = run(tmp_path, WHOLE, "--json", "--without-plan")
    answer = json.loads(printed)
    assert status == 0
    assert answer["status"] == "inside the limits set"
    assert {"sheets", "trips", "heaviest_kg", "pressure_kPa", "hours", "shorter", "loads", "steps"} <= set(answer)
    assert (answer["sheets"], answer["trips"]) == (15, 4)
    for key in ("heaviest_kg", "pressure_kPa", "hours"):
        assert answer[key]["low"] <= answer[key]["likely"] <= answer[key]["high"]
    assert answer["price"]["total"][1].count(".") == 1
    assert isinstance(answer["price"]["total"][1], str)


def test_outside_is_status_1(tmp_path: Path) -> None:
    steep = WHOLE.replace('length = "100 ft"', 'length = "100 ft"\nslope = "10 deg"')
    status, printed, _ = run(tmp_path, steep, "--json", "--without-plan")
    assert status == 1
    assert json.loads(printed)["outside"]


def test_text_for_people(tmp_path: Path) -> None:
    status, printed, _ = run(tmp_path, WHOLE, "--without-plan")
    assert status == 0
    for words in ("INSIDE THE LIMITS SET", "4 trips with dolly", "15 sheets", "psi", "Hours of the crew", "in all"):
        assert words in " ".join(printed.split())
    assert not [words for words in FORBIDDEN if words in printed.lower()]
    metric = run(tmp_path, WHOLE, "--without-plan", "--units", "metric")[1]
    assert "kPa" in metric
    assert "psi" not in metric.split("Filled in")[0]


@pytest.mark.parametrize(
    ("text", "path", "words"),
    [
        (WHOLE.replace('"185.00"', '"-185.00"'), "rates.crew_hour", "A rate cannot be negative"),
        (WHOLE.replace('"185.00"', "-185.0"), "rates.crew_hour", "A rate cannot be negative"),
        (WHOLE.replace('"185.00"', '"lots"'), "rates.crew_hour", "sum of money"),
        (WHOLE.replace('length = "100 ft"\n', ""), "access.leg[0].length", "needs a length"),
        (WHOLE.replace('"30 psi"', '"30 ft"'), "machine[0].tyre_pressure", "is a length, but a pressure"),
        (
            WHOLE + '\n[[access.gate]]\nid = "gate"\nwidth = "8 in"\n',
            'access.gate["gate"].width',
            "nobody gets through",
        ),
        (
            WHOLE + '\n[crane]\nradius = "26 ft"\nchart = "radius_ft,capacity_lb\\n20,3000\\n25,\\n30,1800"\n',
            "crane.chart",
            "a chart with holes is not used",
        ),
        (WHOLE.replace("count = 20", "count = 1"), "boards.count", "leap-frogged"),
        (WHOLE.replace('"3/4 in"', '"1/8 in"'), "boards.thickness", "thinner than any in the table"),
        (WHOLE + '\n[crane]\nradius = "26 ft"\nchart = ""\n', "crane.chart", "heading and 2 to 500 lines"),
        (WHOLE.replace('"100 ft"\n', '"100 ft"\nslope = "90 deg"\n'), "access.leg[0].slope", "more than 60 deg"),
        (WHOLE.replace("count = 20", "count = 0"), "boards.count", "whole number from 1"),
        (WHOLE.replace('"310 kg"', '"0 kg"'), "machine[0].payload", "must be more than zero"),
        (LOG, "access.leg", "write [access]"),
        (WHOLE + "\n[day]\ncrews = 0\n", "day.crews", "whole number from 1 to 12"),
        (WHOLE + "\n[day]\npeople = 0\n", "day.people", "whole number from 1 to 12"),
        (
            WHOLE + '\n[[day.forecast]]\nfrom = "15:00"\nto = "13:00"\ngusts = "30 mph"\n',
            "day.forecast[0].to",
            "before they begin",
        ),
        (WHOLE + '\n[[rates.extra]]\ntag = "stump"\nwhat = "Stump"\nrate = "-5"\n', "rates.extra[0].rate", "negative"),
        (
            WHOLE + '\n[[rates.extra]]\ntag = "stump"\nwhat = "Stump"\nrate = "5"\nquantity = "-1"\n',
            "rates.extra[0].quantity",
            "cannot be negative",
        ),
        (WHOLE + '\n[crane]\nchart = "radius_ft,capacity_lb\\n20,3000\\n25,2000"\n', "crane.radius", "Give the radius"),
        (WHOLE + DOLLY, "machine[1].name", "used twice"),
    ],
)
def test_bad_input_is_one_sentence_and_status_2(tmp_path: Path, text: str, path: str, words: str) -> None:
    status, printed, said = run(tmp_path, text, "--json", "--without-plan")
    assert status == 2, said
    assert "Traceback" not in printed + said
    faults = json.loads(printed)["faults"]
    assert any(fault["path"] == path and words in fault["sentence"] for fault in faults), faults


def test_one_fault_is_told_once(tmp_path: Path) -> None:
    """A length that cannot be read is not said to be missing as well."""
    _, printed, _ = run(tmp_path, WHOLE.replace('"100 ft"', '"100 feets"'), "--json", "--without-plan")
    assert [fault["path"] for fault in json.loads(printed)["faults"]] == ["access.leg[0].length"]


def test_with_the_cut_order(tmp_path: Path) -> None:
    """The plan's own order and times are used, and ways are priced side by side."""
    status, printed, _ = run(tmp_path, WHOLE, "--json")
    answer = json.loads(printed)
    assert status in (0, 1)
    assert answer["steps"]
    assert [way["title"] for way in answer["ways"]] or "There is no cut order" in " ".join(answer["notes"])


def test_drawings_and_the_price_of_a_change(tmp_path: Path) -> None:
    """Files whole, the change exact: one more tarp of 55.50 with 7 % tax is 59.39 (3.885 rounds up)."""
    (tmp_path / "before.toml").write_text(WHOLE, encoding="utf-8")
    tarp = '\n[[rates.extra]]\ntag = "protection"\nwhat = "Tarp"\nrate = "55.50"\n'
    options = ("--without-plan", "--out", str(tmp_path / "made"), "--against", str(tmp_path / "before.toml"))
    status, printed, said = run(tmp_path, WHOLE + tarp, *options)
    assert status == 0, said
    assert sorted(path.name for path in (tmp_path / "made").iterdir()) == ["day.svg", "out.json", "way-out.svg"]
    told = " ".join(printed.split())
    for words in ("Tarp added 55.50", "lines as before", "signed before work goes on", "Written"):
        assert words in told
    answer = json.loads((tmp_path / "made" / "out.json").read_text(encoding="utf-8"))
    assert answer["day"]["bars"]
    _, printed, _ = run(tmp_path, WHOLE + tarp, *options, "--json")
    change = json.loads(printed)["change"]
    assert change["before_tax"] == ["55.50"] * 3
    assert [line["word"] for line in change["lines"] if line["what"] == "Tarp"] == ["added"]


def test_a_change_needs_two_prices(tmp_path: Path) -> None:
    (tmp_path / "before.toml").write_text(WHOLE.replace('crew_hour = "185.00"\n', ""), encoding="utf-8")
    status, _, said = run(tmp_path, WHOLE, "--without-plan", "--against", str(tmp_path / "before.toml"))
    assert status == 2
    assert "The earlier revision has no price to compare" in said
