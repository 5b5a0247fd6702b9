"""Finding a part by what a shop calls it, with the sizes that are said along with it."""

from parts.catalogue.filling import Filled, fill
from parts.catalogue.reading import LONGEST_SEARCH, Said, read
from parts.catalogue.search import Found, find
from parts.catalogue.vocabulary import vocabulary

__all__ = ["LONGEST_SEARCH", "Filled", "Found", "Said", "fill", "find", "read", "vocabulary"]
