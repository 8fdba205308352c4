"""The zip of the insurer's pack: hashes by hashlib, the same bytes again, tables that say what the papers say."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import zipfile
from decimal import Decimal

import pytest
from paper_cases import full

from bolewright.documents.insurer_pack.bundle import MANIFEST, bundle
from bolewright.documents.insurer_pack.tables import as_csv, data_files
from bolewright.documents.papers import make
from bolewright.job.read import loads


@pytest.fixture(scope="module")
def packed() -> bytes:
    """The pack of the full job with two papers beside it."""
    return make(full(), ("insurer-pack", "invoice", "call-sheet")).files["insurer-pack.zip"]


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
    data = data_files(full())
    assert bundle(papers, data) == bundle(again, dict(reversed(data.items())))


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
