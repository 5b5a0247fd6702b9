"""Understood: what a shop's own word for a process or a material was taken for."""

from collections.abc import Iterator, Mapping

from parts.spec.parameter import Value

_NAMES = ("process", "material")


def taken_for(given: Mapping[str, str], values: Mapping[str, Value]) -> Iterator[tuple[str, str]]:
    """Yield the name of each value that was given in a shop's own word, and a sentence of what it was taken for."""
    for name in _NAMES:
        word, meant = str(given.get(name) or "").strip(), str(values.get(name, ""))
        if word and meant and "-".join(word.lower().replace("_", " ").split()) != meant:
            yield name, f"{word} is taken for {meant}."
