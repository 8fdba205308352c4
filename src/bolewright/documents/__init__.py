"""Results and drawings to paper, one folder per document."""
