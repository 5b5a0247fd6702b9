"""What of a search is the material: `stainless` of a stainless cap."""

from parts.catalogue.shop_words import normal
from parts.catalogue.vocabulary import vocabulary
from parts.errors import UnitsError
from parts.spec import Parameters, ReadingContext


def material_of(word: str) -> str:
    """Return the material that a word stands for; '' for what is none, the usual one, or a word of a part's name."""
    if not word.isalpha() or normal(word) in vocabulary().words:
        return ""
    spec = Parameters.specs()["material"]
    try:
        material = str(spec.read(word, ReadingContext()))
    except UnitsError:
        return ""
    return "" if material == spec.default else material
