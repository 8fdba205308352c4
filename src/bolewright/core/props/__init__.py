"""Posts, cribs, wedges and their footing."""
