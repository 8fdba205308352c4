"""The zip of the insurer's pack: hashes by hashlib, the same bytes again, tables that say what the papers say."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import zipfile
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from paper_cases import full

from bolewright.documents.given import PhotoRow
from bolewright.documents.insurer_pack.bundle import MANIFEST, pack
from bolewright.documents.insurer_pack.tables import as_csv
from bolewright.documents.papers import make
from bolewright.drawings.photo_marks import PhotoMark
from bolewright.job.read import loads


@pytest.fixture(scope="module")
def packed() -> bytes:
    """The pack of the full job with two papers beside it."""
    return bytes(make(full(), ("insurer-pack", "invoice", "call-sheet")).files["insurer-pack.zip"])


@pytest.fixture(scope="module")
def opened(packed: bytes) -> zipfile.ZipFile:
    """The same, opened."""
    return zipfile.ZipFile(io.BytesIO(packed))


def test_manifest_has_the_hash_of_every_file(opened: zipfile.ZipFile) -> None:
    """SHA-256 (FIPS 180-4) by hashlib, for every file but the manifest itself."""
    lines = [line.split("  ", 1) for line in opened.read(MANIFEST).decode().splitlines()]
    assert {name for _, name in lines} == set(opened.namelist()) - {MANIFEST}
    for told, name in lines:
        assert hashlib.sha256(opened.read(name)).hexdigest() == told, name
    assert opened.testzip() is None


def test_holds_papers_and_data(opened: zipfile.ZipFile) -> None:
    """The papers made beside it, the job, CSV and JSON."""
    names = set(opened.namelist())
    assert {
        "papers/insurer-pack.pdf",
        "papers/invoice.pdf",
        "papers/call-sheet.pdf",
        "data/job.toml",
        "data/answers.json",
        "data/pieces.csv",
        "data/steps.csv",
        "data/estimate.csv",
        "data/invoice.csv",
        "data/log.csv",
        "data/photographs.csv",
        "contents.csv",
        "READ-ME.txt",
    } <= names
    assert loads(opened.read("data/job.toml").decode()) == full().job
    answers = json.loads(opened.read("data/answers.json"))
    assert answers["bill"]["total"] == "2194.84"


def test_same_bytes_again() -> None:
    """No clock, no order of a set, no compressor in it."""
    papers = {"b.pdf": b"two", "a.pdf": b"one"}
    again = dict(reversed(papers.items()))
    assert bytes(pack(papers, full())) == bytes(pack(again, full()))


def test_originals_are_in_it_as_they_came(tmp_path: Path) -> None:
    """Byte for byte under their numbers, with hash and the name in the table; one that was altered, or is not here,
    stays out; a copy that was drawn on is beside them. The same bytes written to a file as in memory."""
    content = b"\xff\xd8" + bytes(range(256)) * 9000
    place = tmp_path / "kept.JPG"
    place.write_bytes(content)
    digest = hashlib.sha256(content).hexdigest()
    mark = PhotoMark("arrow", (0.1, 0.1), (0.5, 0.5), "torn", "arrow: torn, Ann")
    row = PhotoRow(7, "../IMG.JPG", digest, len(content), untouched=True, original=place, thumb=b"small", drawn=(mark,))
    photos = (row, replace(row, number=8, untouched=False), replace(row, number=9, original=None, drawn=()))
    made = pack({}, replace(full(), photos=photos))
    with (tmp_path / "pack.zip").open("wb") as out:
        made.write(out)
    assert (tmp_path / "pack.zip").read_bytes() == bytes(made)
    opened = zipfile.ZipFile(tmp_path / "pack.zip")
    assert opened.testzip() is None
    assert [n for n in opened.namelist() if n.startswith("photographs/")] == [
        "photographs/0007.jpg", "photographs/drawn-on/0007.svg", "photographs/drawn-on/0008.svg",
    ]  # fmt: skip
    assert opened.read("photographs/0007.jpg") == content
    assert f"{digest}  photographs/0007.jpg" in opened.read(MANIFEST).decode().splitlines()
    table = csv.DictReader(io.StringIO(opened.read("data/photographs.csv").decode()))
    assert [line["in_this_file"] for line in table] == ["photographs/0007.jpg", "", ""]
    assert b"the originals as they came" in opened.read("READ-ME.txt")


def test_too_many_bytes_of_originals_stay_out_and_that_is_said(tmp_path: Path) -> None:
    """None is put in rather than some; the table names none and the first file says why."""
    row = PhotoRow(1, "a.jpg", "0" * 64, 1_200_000_000, untouched=True, original=tmp_path / "a.jpg")
    made = pack({}, replace(full(), photos=(row, replace(row, number=2))))
    assert made.originals == ()
    assert "2.4 GB, more than 2 GB" in made.files["READ-ME.txt"].decode()
    assert b"photographs/000" not in made.files["data/photographs.csv"] + made.files[MANIFEST]


def test_invoice_lines_add_up_to_the_bill(opened: zipfile.ZipFile) -> None:
    """Read by the csv module: amounts are quantity times rate to the cent, and add up to what the bill says."""
    rows = list(csv.DictReader(io.StringIO(opened.read("data/invoice.csv").decode())))
    for row in rows:
        assert Decimal(row["amount"]) == (Decimal(row["quantity"]) * Decimal(row["rate"])).quantize(Decimal("0.01"))
    answers = json.loads(opened.read("data/answers.json"))
    assert sum(Decimal(row["amount"]) for row in rows) == Decimal(answers["bill"]["before_tax"])


def test_a_text_is_no_formula() -> None:
    """A spreadsheet would run a cell that starts with =, +, - or @; a number stays a number."""
    text = as_csv(("what", "kg"), [('=HYPERLINK("x")', -1.5), ("@sum", 2.0)]).decode()
    assert text == 'what,kg\r\n"\'=HYPERLINK(""x"")",-1.5\r\n\'@sum,2.0\r\n'
