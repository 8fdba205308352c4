"""A letter to the owner of a tree: to whom, what is asked and by when, how it got there, what came back."""

from __future__ import annotations

from pydantic import Field

from bolewright.job.fields import Date, Notes, Text
from bolewright.job.table import Table


class Delivery(Table):
    """One way the letter went out."""

    date: Date = Field(description="day it was sent or handed over")
    how: Text = Field(description="how: by hand, recorded post, mail")
    to: Text | None = Field(None, description="who took it, or the address it went to")
    reference: Text | None = Field(None, description="number of the receipt, name of a witness")


class Reply(Table):
    """One answer that came back."""

    date: Date = Field(description="day it came")
    by: Text | None = Field(None, description="who answered")
    how: Text | None = Field(None, description="how: letter, mail, telephone, in person")
    said: Notes | None = Field(None, description="what was said, as nearly in their words as can be")


class Notice(Table):
    """A letter to the owner of the tree. It tells what was seen and asks; it claims nothing."""

    to: tuple[Text, ...] = Field((), description="name and address of the owner, line by line")
    sender: tuple[Text, ...] = Field((), description="who writes: name and address, line by line")
    position: Text | None = Field(None, description="where the tree stands, so that it can be no other")
    ask: tuple[Text, ...] = Field((), description="what the owner is asked to do, one thing a line")
    answer_by: Date | None = Field(None, description="day by which an answer is asked for")
    contact: Text | None = Field(None, description="how the writer can be reached")
    enclosure: tuple[Text, ...] = Field((), description="what lies in with the letter")
    delivery: tuple[Delivery, ...] = Field((), description="how and when it went out")
    reply: tuple[Reply, ...] = Field((), description="what came back")
