"""Trees that still stand: wind, stem, roots, tests, judgement and looking back."""
