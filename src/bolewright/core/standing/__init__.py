"""Standing trees: wind, own weight, sections, roots, what a test would have shown, and where a tree would fall."""
