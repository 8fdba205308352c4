"""What is kept: jobs as append-only revisions, photographs as they came, what was seen and done, and answers.

SQLite in the data folder, or PostgreSQL by DATABASE_URL. Nothing here is a page.
"""
