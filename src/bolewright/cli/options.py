"""Options that several commands share."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer


class UnitSystem(StrEnum):
    """How numbers are written for people."""

    US = "us"
    METRIC = "metric"


JobFile = Annotated[str, typer.Argument(metavar="JOB", help="Job file (TOML or JSON), or - to read it from the pipe.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object instead of text.")]
UnitsOption = Annotated[UnitSystem | None, typer.Option("--units", help="Write numbers in these; default: as the job.")]
OutFolder = Annotated[Path | None, typer.Option("--out", metavar="FOLDER", help="Write drawings and papers here.")]
PaperDate = Annotated[str | None, typer.Option("--date", help="Date on the papers, 2026-03-28; default: the job's.")]
