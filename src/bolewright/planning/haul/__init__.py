"""The way out: pieces, ground, trips, hours and price."""
