"""A second formulation of equilibrium that shares no code with the search, to check its finished plan."""
