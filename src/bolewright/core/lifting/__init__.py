"""Lifting: slings, ropes, blocks, caught falls, crane picks, lifts by hand, pulls over the ground."""
