"""Template tags of the field sheet."""
