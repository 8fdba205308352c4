"""One module for each family of pages."""
