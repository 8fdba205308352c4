"""What a cut does, which pieces can come off, and the search for an order."""
