"""Standing trees: wind, stem, root plate and rating."""
