"""Storage: what is kept, in one SQLite file beside the key pepper. SQLAlchemy stays in this folder."""
