"""What the JSON interface takes and gives, as its OpenAPI document describes it."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Literal

from ninja import Schema
from pydantic import ConfigDict, Field

State = Literal["none", "running", "done", "refused", "lost"]


class FaultRow(Schema):
    """One fault."""

    path: str = Field(description="Where: a value of the job document, a parameter, or empty for the whole.")
    sentence: str = Field(description="What is wrong and what to do, in one plain sentence.")


class Faults(Schema):
    """Everything that is wrong, at once."""

    faults: list[FaultRow]


class StaleFaults(Faults):
    """The change was made on an older revision: the current one, to put the change on."""

    revision: int
    document: dict[str, Any]


class JobRow(Schema):
    """A job in the list."""

    key: str
    title: str
    revision: int
    made_at: datetime
    changed_at: datetime
    changed_by: str
    example: bool = Field(description="Shipped with the program: all its data are invented.")
    units: Literal["us", "metric"] = Field(description="How numbers are written for people on its pages.")
    stopped: bool = Field(description="Work is stopped.")


class JobList(Schema):
    """One page of the list, newest first."""

    count: int
    jobs: list[JobRow]


class RevisionRow(Schema):
    """One revision, without its document."""

    number: int
    made_at: datetime
    by: str
    what: str


class RevisionList(Schema):
    """One page of the line of revisions, newest first."""

    count: int
    revisions: list[RevisionRow]


class PhotoRow(Schema):
    """A photograph and what is known about it."""

    number: int
    stage: str
    view: str = Field(description="The required view it fills, empty for none.")
    name: str
    kind: str
    size: int = Field(description="Bytes of the original.")
    width: int
    height: int
    sha256: str = Field(description="Of the original, which is kept byte for byte.")
    taken: str = Field(description="As the camera wrote it; cameras know no time zone.")
    place: str
    received_at: datetime
    by: str
    facing: str
    note: str
    shows: list[str] = Field(description="Every required view it fills by now, whatever it was sent for.")
    drawn: list[str] = Field(description="What stands drawn on a copy, in words; lengths in the units of the job.")


class PhotoList(Schema):
    """All photographs of a job."""

    photos: list[PhotoRow]


class ViewRow(Schema):
    """A view the job asks for."""

    id: str = Field(description="What `view` of a photograph is to say.")
    stage: Literal["before", "during", "after"]
    words: str
    step: int | None = Field(description="The step of the plan in use that waits for it, if one does.")
    state: Literal["filled", "waived", "missing"]
    photos: list[int] = Field(description="Numbers of the photographs that fill it.")
    reason: str = Field(description="Why it is done without, empty where it is not.")
    waived_by: str


class ViewList(Schema):
    """The views a job asks for, in the order of the day; those of the first stage before a plan can be taken."""

    views: list[ViewRow]


class Answer(Schema):
    """The keys of the command's --json, see docs/commands.md. More stand beside those named here."""

    model_config = ConfigDict(extra="allow")


class CheckAnswer(Answer):
    """What is missing to answer each question."""

    title: str
    questions: dict[str, Any]
    faults: list[FaultRow]


class WeighAnswer(Answer):
    """What the tree weighs."""

    total: dict[str, Any]
    pieces: list[dict[str, Any]]


class HoldAnswer(Answer):
    """What holds it up."""

    status: str
    supports: list[dict[str, Any]]
    pieces: list[dict[str, Any]]
    residual: float | None


class StandAnswer(Answer):
    """How far a standing tree is from failing."""

    status: str
    sections: list[dict[str, Any]]
    breaks_first: Any
    gust_m_s: Any
    rating: dict[str, Any]


class OutAnswer(Answer):
    """How the wood gets out."""

    status: str
    sheets: Any
    trips: Any
    heaviest_kg: Any
    pressure_kPa: Any
    hours: Any


class RecordAnswer(Answer):
    """What earlier jobs took against what was planned."""

    counted: int
    taken: bool
    steps: list[dict[str, Any]]
    jobs: list[dict[str, Any]]
    rows: list[dict[str, Any]]


class CutsAnswer(Answer):
    """In what order to cut."""

    status: str
    steps: list[dict[str, Any]]
    peak_building_N: Any
    start_building_N: Any


class CutsRun(Schema):
    """How it stands with the order of cuts for one revision."""

    revision: int
    state: State
    words: str = Field(description="What it is at.")
    share: float = Field(ge=0.0, le=1.0, description="How far it is.")
    sentences: list[str] = Field(description="Why there is no answer.")
    seconds: float | None
    answer: CutsAnswer | None
