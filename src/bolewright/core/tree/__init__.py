"""Stem and limb geometry, taper, pieces, mass and centre of mass."""
