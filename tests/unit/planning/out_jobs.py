"""A plain log on a lawn, so that what gets out can be worked out by hand."""

from __future__ import annotations

from bolewright.job.model import Job
from bolewright.job.read import loads

# A cylinder 20 in (0.508 m) thick and 20 ft (6.096 m) long of 900 kg/m3: pi/4 x 0.508^2 x 6.096 x 900 = 1112 kg,
# wanted in four pieces of 5 ft: 278 kg each.
LOG = """
schema = 1
[job]
title = "Log on the lawn"
[tree]
species = "northern red oak"
density = "900 kg/m^3"
attached = "free"
[[tree.stem]]
at = "0 ft"
diameter = "20 in"
height = "0 ft"
[[tree.stem]]
at = "20 ft"
diameter = "20 in"
height = "0 ft"
[[support]]
id = "butt"
at = "2 ft"
on = "ground"
[[support]]
id = "far end"
at = "18 ft"
on = "ground"
[[cut]]
at = "5 ft"
[[cut]]
at = "10 ft"
[[cut]]
at = "15 ft"
[access]
state = "firm"
owner_told = true
"""
LEG = """
[[access.leg]]
surface = "lawn"
length = "100 ft"
"""
DOLLY = """
[[machine]]
name = "dolly"
mass = "30 kg"
payload = "310 kg"
width = "30 in"
tyre_width = "4 in"
tyre_diameter = "15 in"
tyre_pressure = "30 psi"
pushed = true
"""
BOARDS = """
[boards]
thickness = "3/4 in"
count = 20
"""
RATES = """
[rates]
crew_hour = "185.00"
machine_hour = "60.00"
tip_load = "85.50"
sheet = "4.25"
tax = "7 %"
ceiling = "9,000.00"
"""
TRAILER = """
[[load]]
name = "trailer"
payload = "700 kg"
length = "10 ft"
"""
WHOLE = LOG + LEG + DOLLY + BOARDS + TRAILER + RATES


def job(text: str, *changes: tuple[str, str]) -> Job:
    """The job of a text with words replaced; every change has to hit."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return loads(text)
