"""Wheels, boards and mats, bearing and ruts."""
