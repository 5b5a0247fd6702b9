"""The description of every address, for programs."""
