"""What a shop calls a process or a material that an address has by its short name."""

from parts.cutting.process import PROCESSES
from parts.cutting.stock import materials
from parts.data import word_of


def title_of_choice(parameter: str, choice: str) -> str:
    """Return a choice of a parameter in words, `Abrasive waterjet` for waterjet; of any other parameter its own words.

    Raises:
        DataError: the shop's own file, or the built-in one, can't be used.
    """
    if parameter == "material" and choice in materials():
        return materials()[choice].title
    if parameter == "process" and choice in PROCESSES:
        return PROCESSES[choice].capitalize()
    return word_of(choice)
