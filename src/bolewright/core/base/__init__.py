"""Vectors and axes, ranges, sourced values and errors."""
