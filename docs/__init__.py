"""The documents, and what makes those of them that come from the code."""
