"""The order of cuts: what is tried, what is refused and why, the plan and its steps."""
