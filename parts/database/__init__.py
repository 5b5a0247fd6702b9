"""Where something is kept for good: a file of SQLite, or the database that an address names; and transactions there."""

from parts.database.place import Place

__all__ = ["Place"]
