"""Answers as text for a wet phone screen: the answer first, short lines, ranges in words, cautions at the hazard."""
