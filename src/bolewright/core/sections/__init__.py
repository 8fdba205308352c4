"""Solid, hollow, open and measured cross-sections."""
