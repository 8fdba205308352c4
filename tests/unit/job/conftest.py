"""A job in which every table of the document is used."""

from __future__ import annotations

import pytest

FULL = """
schema = 1

[job]
title = "Maple on the garage"
site = "12 Hill Road"
owner = "R. Ames"
caller = "R. Ames"
date = 2026-03-28
lead = "A. Reyes"
crew = ["A. Reyes", "B. Holt"]
people_out = true
hospital = "County General"
notes = "Gate 4 ft wide.\\nDog next door."
utilities = [{ kind = "power", state = "live", distance = "35 ft" }, { kind = "gas" }]

[tree]
species = "silver maple"
density = "850 ± 50 kg/m3"
attached = "root plate"
bearing = "75 deg"
dbh = "36 in"
moisture_note = "sap wet"

[[tree.stem]]
at = "0 ft"
diameter = "40 in"
height = "2 ft 6 in"
offset = "0 ft"

[[tree.stem]]
at = "31 ft"
diameter = "22 in ± 1 in"
height = "11 ft"
offset = "-6 in"

[[tree.limb]]
id = "L1"
on = "stem"
at = "24 ft"
clock = 3
angle = "50 deg"
length = "18 ft"
diameter = "9 in"
tip_diameter = "2 in"
foliage = "leaf"

[[tree.limb]]
id = "L2"
on = "L1"
at = "6 ft"
clock = 9.5
angle = "40 deg"
length = "8..10 ft"
diameter = "4 in"
broken = true

[[tree.decay]]
from = "0 ft"
to = "6 ft"
readings = { "12" = "5 in", "3" = "4 in", "6.5" = "3 in" }

[[tree.decay]]
member = "L1"
from = "1 ft"
to = "3 ft"
shell = "2 in"

[tree.root_plate]
diameter = "9 ft"
thickness = "2 ft"
soil = "clay"

[[support]]
id = "ridge"
member = "stem"
at = "31 ft"
on = "roof"
normal = [0, 0.2, 1]
stiffness = "rigid"
friction = 0.4
limit = "9000 lb"
tolerance = "1 in"
feel = "hard"
width = "6 in"

[[support]]
id = "limb on lawn"
member = "L1"
at = "18 ft"
on = "ground"
normal = "up"
stiffness = "300 N/mm"
gap = "2 in"

[[line]]
id = "T1"
member = "stem"
at = "20 ft"
kind = "tie-back"
anchor = { forward = "5 ft", right = "-20 ft", height = "3 ft" }
limit = "2000 lbf"
pull = "200 lb"

[[building]]
id = "garage"
near = "18 ft"
far = "42 ft"
left = "12 ft"
right = "10 ft"
eave = "8 ft"
ridge = "12 ft"
ridge_runs = "along"
overhang = "1 ft"

[ground]
slope = "-3 deg"
surface = "lawn"
bearing = "1500 psf"

[[protect]]
id = "window"
kind = "window"
near = "17 ft"
far = "18 ft"
left = "10 ft"
right = "-6 ft"
height = "5 ft"

[[cut]]
member = "L1"
at = "0 ft"

[handling]
hand = "80 lb"
drop = "500 lb"
drop_height = "6 ft"
roll = "600 lb"
line = "400 lb"
crane = "3000 lb"

[[truck]]
section = "4x4"
length = "8 ft"
count = 6
species = "Douglas-fir"
grade = "No. 2"

[[truck]]
section = "round 8 in"
length = "7 ft"
count = 2

[limits]
share = 0.9
floor = "5 %"
movement = "2 in"
building = "12000 lb"
samples = 512
seed = 7
"""


@pytest.fixture
def full() -> str:
    """The text of that job."""
    return FULL
