"""docs/job-document.md says what the program does: its field tables, its examples and its limits."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from bolewright.job.checks.limbs import THICKER
from bolewright.job.fields import LONGEST_TRUNK, THICKEST_STEM
from bolewright.job.guards import LARGEST_FILE
from bolewright.job.manual import field_tables
from bolewright.job.model import Job
from bolewright.job.problems import missing
from bolewright.job.quantity import Dimension, Quantity, quantity
from bolewright.job.read import loads
from bolewright.job.shape import slots, walk


@pytest.fixture(scope="module")
def page(root: Path) -> str:
    """The page."""
    return (root / "docs" / "job-document.md").read_text(encoding="utf-8")


def test_field_tables_are_those_of_the_models(page: str) -> None:
    """Write the page again with `bolewright.job.manual.field_tables` when this fails."""
    assert page.split("<!-- fields -->\n\n")[1] == field_tables()


def test_every_field_has_a_meaning() -> None:
    """No field without words."""
    for table in (Job, *(inside for _, _, inside in walk(Job))):
        for slot in slots(table).values():
            assert slot.info.description, f"{table.__name__}.{slot.key}"


def test_the_smallest_job_is_a_job(page: str) -> None:
    """The example on the page can be read, and lacks nothing that is needed."""
    example = re.search(r"```toml\n(.*?)```", page, re.DOTALL)
    assert example
    job = loads(example[1])
    assert not [item for item in missing(job, "hold") if item.needed]


def test_units_on_the_page_are_read(page: str) -> None:
    """Every example in the table of quantities is of the kind its row says."""
    kinds = {"friction": Dimension.NUMBER, **{kind.value: kind for kind in Dimension}}
    rows = re.findall(
        r"^\| (\w+) \|[^|]*\|([^|]*)\|$", page.split("## Quantities")[1].split("## Spread")[0], re.MULTILINE
    )
    seen = [row for row in rows if row[0] in kinds]
    assert len(seen) == 12
    for name, examples in seen:
        for example in re.findall(r"`(.*?)`", examples):
            text = example[1:-1].replace('\\"', '"') if example.startswith('"') else example
            assert quantity(text, kinds[name]).likely > 0


def test_spreads_on_the_page(page: str) -> None:
    """The worked spreads are what the reader gives."""
    rows = re.findall(r"^\| (`.*?) \| (\S+ \w+) \| (\S+ \w+) \| (\S+ \w+) \|$", page, re.MULTILINE)
    assert len(rows) == 4
    for written, *ends in rows:
        expected = [quantity(end, Dimension.LENGTH).likely for end in ends]
        for example in re.findall(r'`"(.*?)"`', written):
            read: Quantity = quantity(example, Dimension.LENGTH)
            assert [read.low, read.likely, read.high] == pytest.approx(expected, rel=1e-12)


def test_limits_on_the_page() -> None:
    """The numbers in "What is refused"."""
    assert (LONGEST_TRUNK, THICKEST_STEM, THICKER, LARGEST_FILE) == (100.0, 6.0, 1.5, 5_000_000)
