"""Green density, strength and bark."""
