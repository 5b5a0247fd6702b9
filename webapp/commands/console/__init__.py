"""What the commands have in common: the words they are given, what they read, and where they write."""

from webapp.commands.console.given import (
    EPILOG,
    LARGEST_FILE,
    STANDARD_STREAM,
    tell,
    tell_found,
    text_of,
    usual_values,
    values_of,
    whole_number,
)
from webapp.commands.console.output import allow, declare_force, folder_at, kind_of, write
from webapp.commands.console.own_table import own_table
from webapp.commands.console.progress import waiting

__all__ = [
    "EPILOG",
    "LARGEST_FILE",
    "STANDARD_STREAM",
    "allow",
    "declare_force",
    "folder_at",
    "kind_of",
    "own_table",
    "tell",
    "tell_found",
    "text_of",
    "usual_values",
    "values_of",
    "waiting",
    "whole_number",
    "write",
]
