"""Bolewright: what holds up a tree lying on a building, and in what order to cut it."""

__version__ = "0.1.0"
