"""What a search of the catalogue led to, in words."""

from parts.catalogue import Found


def found_in_words(found: Found, sought: str, every: int) -> str:
    """Return what a search among `every` template led to, in a sentence or two."""
    count = len(found.templates)
    said = [f"“{word}” is read as {other}." for word, other in found.read_as] if not found.is_near else []
    unmet = "”, “".join(found.unmet)
    if not count:
        said.append(f"0 of the {every} parts go by “{sought}”, and none is called much like it.")
    elif found.is_near:
        said.append(f"No part goes by “{sought}”; nearest {'is one' if count == 1 else f'are {count}'}:")
    elif unmet:
        going = "goes one" if count == 1 else f"go {count}, best first"
        said.append(f"No part goes by “{unmet}”; by the rest {going}.")
    else:
        going = f"goes by “{sought}”" if count == 1 else f"go by “{sought}”, best first"
        said.append(f"{count} of the {every} parts {going}.")
    return " ".join(said)
