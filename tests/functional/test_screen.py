"""`bolewright screen`: a list in, a table out, by the same computation as one tree."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

import pytest
from typer.testing import CliRunner

from bolewright.cli import late
from bolewright.cli.main import app
from bolewright.job.read import from_tables
from bolewright.planning.standing import screen as screening
from bolewright.planning.standing.stand import stand

HEAD = "id,species,dbh,height,crown_width,lean,lean_towards,shell\n"
GOOD = "a,red maple,40 cm,16 m,8 m,,,\n"
LIST = HEAD + GOOD + "b,no such tree,30 in,70 ft,40 ft,,,\n\nc,red maple,40 cm,16 m,8 m,90 deg,N,\nd,red maple,40 cm\n"


@pytest.fixture
def trees(tmp_path: Path) -> Path:
    """Four trees, one of them good."""
    file = tmp_path / "trees.csv"
    file.write_text(LIST, encoding="utf-8")
    return file


def test_every_row_is_answered(trees: Path) -> None:
    """The good one with its gusts, the others with their sentence, in order."""
    done = CliRunner().invoke(app, ["screen", str(trees)])
    rows = list(csv.DictReader(io.StringIO(done.stdout)))
    assert done.exit_code == 0
    assert [row["id"] for row in rows] == ["a", "b", "c", "d"]
    assert [row["status"] for row in rows][1:] == ["cannot be read"] * 3
    assert rows[0]["status"] in ("inside", "outside")
    assert "species table" in rows[1]["words"]
    assert rows[2]["words"].startswith("standing.lean")
    assert "3 cells" in rows[3]["words"]


def test_the_same_as_one_tree(trees: Path) -> None:
    """The gust of the row is that of `stand` on the same document with as many samples."""
    done = CliRunner().invoke(app, ["screen", str(trees), "--json"])
    row = json.loads(done.stdout.splitlines()[0])
    raw = {
        "schema": 1, "job": {"title": "a"},
        "tree": {"species": "red maple", "dbh": "40 cm", "attached": "standing"},
        "standing": {"height": "16 m", "crown_width": "8 m"},
        "limits": {"samples": screening.SAMPLES},
    }  # fmt: skip
    one = stand(from_tables(raw))
    assert row["gust_m_s"]["likely"] == one.gust_m_s.likely
    assert (row["status"], row["breaks_first"]) == (one.status, one.breaks_first)


def test_rows_are_worked_out_one_at_a_time() -> None:
    """A list without end: the first two answers come, and no more than two rows were read."""
    read = []

    def endless() -> Iterator[list[str]]:
        while True:
            read.append(1)
            yield [str(len(read)), "red maple", "40 cm", "16 m", "8 m"]

    names = screening.columns(["id", "species", "dbh", "height", "crown_width"])
    found = list(islice(screening.screened(names, endless()), 2))
    assert [row.id for row in found] == ["1", "2"]
    assert len(read) == 2


def test_a_file_and_going_on(trees: Path, tmp_path: Path) -> None:
    """Written to a new file; with --skip from the second tree on; never over a file."""
    out = tmp_path / "answers.csv"
    assert CliRunner().invoke(app, ["screen", str(trees), "--out", str(out), "--skip", "1"]).exit_code == 0
    assert [row["id"] for row in csv.DictReader(out.open(encoding="utf-8"))] == ["b", "c", "d"]
    again = CliRunner().invoke(app, ["screen", str(trees), "--out", str(out)])
    assert again.exit_code == 2
    assert "there already" in again.stderr


def test_stopped_by_hand(trees: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is done is kept, and how to go on is said."""
    whole = late.screen_list

    def stopping(name: str, skip: int):  # type: ignore[no-untyped-def]
        from contextlib import contextmanager

        @contextmanager
        def inner():  # type: ignore[no-untyped-def]
            with whole(name, skip) as (rows, total):

                def cut():  # type: ignore[no-untyped-def]
                    yield next(rows)
                    raise KeyboardInterrupt

                yield cut(), total

        return inner()

    monkeypatch.setattr(late, "screen_list", stopping)
    done = CliRunner().invoke(app, ["screen", str(trees)])
    assert done.exit_code == 130
    assert "Stopped after 1 trees" in done.stderr
    assert "--skip 1" in done.stderr
    assert len(list(csv.DictReader(io.StringIO(done.stdout)))) == 1


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("", "empty"),
        ("id,species,dbh,height\n", "no column crown_width"),
        ("id,species,dbh,height,crown_width,girth\n", '"girth"'),
        ("id,id,species,dbh,height,crown_width\n", "two columns"),
    ],
)
def test_lists_that_cannot_be(text: str, word: str, tmp_path: Path) -> None:
    """One sentence, exit status 2."""
    file = tmp_path / "trees.csv"
    file.write_text(text, encoding="utf-8")
    done = CliRunner().invoke(app, ["screen", str(file)])
    assert done.exit_code == 2
    assert word in done.stderr
    assert CliRunner().invoke(app, ["screen", str(tmp_path / "none.csv")]).exit_code == 2


def test_a_hole_in_the_list() -> None:
    """A thin shell in the row takes strength as a drilling does."""
    given = {"id": "x", "species": "red maple", "dbh": "40 cm", "height": "16 m", "crown_width": "8 m"}
    thin = stand(screening.tree_of({**given, "shell": "1 cm"}))
    assert thin.stem_gust_m_s.likely < stand(screening.tree_of(given)).stem_gust_m_s.likely
