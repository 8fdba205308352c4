"""Pure numbers in, frozen results out: SI units, no files, clock, randomness or environment."""
