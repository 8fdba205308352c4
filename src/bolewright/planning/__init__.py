"""Use cases: a job and the reference tables go in, results come out."""
