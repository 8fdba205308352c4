"""Results to SVG. Drawings place and round; they never compute."""
