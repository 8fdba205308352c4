"""The job document: what the user measured, with units at the door."""
