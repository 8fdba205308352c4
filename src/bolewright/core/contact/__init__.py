"""What holds the tree up: supports, lines, friction, equilibrium, bounds, stability and motion."""
