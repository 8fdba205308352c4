"""What is used for a standing tree where the job says nothing. Every value travels to the report as filled in."""

from __future__ import annotations

from bolewright.core.base.range import Range
from bolewright.core.base.sourced import Sourced, Status

_NONE = "judgement; no published value found"
CROWN_BASE = 1.0 / 3.0  # of the height
SHAPE = {"broadleaf": "round", "conifer": "cone"}
# Share of the crown's outline that is leaf and wood.
FILLED: dict[str, Sourced[Range]] = {
    "in leaf": Sourced(Range(0.50, 0.70, 0.90), _NONE, Status.COMMON_PRACTICE),
    "bare": Sourced(Range(0.15, 0.25, 0.35), _NONE, Status.COMMON_PRACTICE),
}
# Drag number of what shows of a bare crown and of an iced one: stiff, so nothing like the folding leaves.
BARE_DRAG = Sourced(Range(0.20, 0.35, 0.60), _NONE, Status.COMMON_PRACTICE)
ICED_DRAG = Sourced(Range(0.40, 0.70, 1.00), _NONE, Status.COMMON_PRACTICE)
ICE = 0.006  # m
ICE_SPREAD = Range(0.5, 1.0, 2.0)  # of its mass: the mean twig is not known
WET_LEAVES = Sourced(Range(1.10, 1.30, 1.50), "water held on leaves, from memory", Status.MEMORY)
# A limb's share of the crown is its share of the stem's basal area (pipe rule: Grabosky, Gilman and Harchick 2007,
# Urban For. Urban Green. 6:159-167, young live oak); how far one limb strays from it is common practice.
LIMB_SAIL = Range(0.6, 1.0, 1.6)
HOLD_AT = 2.0 / 3.0  # of a limb's length, where a brace or prop is set when nothing is said (common practice)
# Share of the wind's speed that neighbours take; published findings say how it changes with stand, not for a lawn tree.
SHELTER = Range(0.10, 0.25, 0.50)
TAPER_POWER = 1.0  # Ormerod 1973: 0.5 paraboloid, 1 cone
WIDTH_SPREAD, HEIGHT_SPREAD = 0.10, 0.05  # of paced widths and heights by angle
LEAN_SPREAD = 0.026  # rad, 1.5 deg
SHARE_ERROR = 0.10  # of a share judged by eye, either way (common practice)
TEST_REACH = 1.0  # m from a test within which its shell is taken on (common practice)
SHELL_SPREAD = 0.010  # m, of a depth read off a drill
SATURATED = Range(0.60, 0.80, 1.00)
PLATE_DENSITY = 1600.0  # kg/m3, moist loam with roots, from memory
GROUPS = 32  # groups of samples for the band of the fragility curve
SIGNS = ("cavity", "conk", "mushroom", "decay", "rot", "dull", "hollow", "crack", "fung")

MEASURES = {
    "drag": ("how the crown drags", "nothing on site; watch it sway in a measured wind, or pull it"),
    "filled": ("how full the crown is", "a photograph of the crown against the sky"),
    "strength": ("strength of this kind of wood", "nothing that leaves the tree whole"),
    "wood": ("what a whole stem reaches of it", "nothing that leaves the tree whole"),
    "width": ("crown width", "crown spread by tape in four directions"),
    "height": ("tree height", "height by tape and angle, or by laser"),
    "size": ("stem diameter", "diameter tape at several heights"),
    "density": ("weight of the wood", "a core, weighed green"),
    "crown_mass": ("weight of the branches", "diameters of all first branches"),
    "foliage_mass": ("weight of leaves, water or ice", "nothing on site"),
    "lean": ("lean and lopsided weight", "lean by plumb line, crown spread on four sides"),
    "stiffness": ("stiffness of the wood", "a pull with the stem's bend read off"),
    "anchorage": ("what the roots hold", "a pull test with an inclinometer on the root plate"),
    "shell": ("depth of sound wood", "more drill holes round the weakest place"),
}
