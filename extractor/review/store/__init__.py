"""Where cases are kept: SQLite or PostgreSQL, one schema; sound as files named by their hash."""
