"""Small job documents for the tests of the command line."""

from __future__ import annotations

GOOD = """
schema = 1
[job]
title = "Oak on the shed"
people_out = true
[tree]
species = "northern red oak"
attached = "free"
[[tree.stem]]
at = "0 ft"
diameter = "20 in"
height = "0 ft"
[[tree.stem]]
at = "30 ft"
diameter = "10 in"
height = "9 ft"
[[support]]
id = "butt"
member = "stem"
at = "1 ft"
on = "ground"
[[support]]
id = "eave"
member = "stem"
at = "24 ft"
on = "roof"
[[building]]
id = "shed"
near = "23 ft"
far = "35 ft"
left = "10 ft"
right = "10 ft"
eave = "7 ft"
"""
WITHOUT_SUPPORTS = GOOD[: GOOD.index("[[support]]")]
TWO_FAULTS = GOOD.replace('"9 ft"', '"nine feet"').replace('on = "roof"', 'on = "cloud"')
