"""The state of a job file as text."""
