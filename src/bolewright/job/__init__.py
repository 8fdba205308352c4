"""The job document: what the crew measured and set, as typed, with units read at the door.

`read.load` opens a job, `write.dump` writes one, `problems.missing` says what is still needed for a question.
Nothing here imports the mathematics, so a saved job opens even when the mathematics has changed.
"""
