"""Shipped tables, each row with its source and status, and the loaders that type them."""
