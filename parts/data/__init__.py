"""The numbers that Platewright comes with: TOML files, each number beside its source."""

from pathlib import Path

FOLDER = Path(__file__).parent
"""Where the files are."""
