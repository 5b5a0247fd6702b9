"""The files: one module a format, each from a record alone."""
