"""A shop's own numbers over the built-in ones: their schema, loading, editing, and the file."""
