"""Slings, ropes, blocks, crane picks and caught falls."""
