"""The field sheet: pages in the order of the day, made on the server, usable without scripting."""
