"""CSS selectors: which elements a rule is about (Selectors Level 4, the part that drawings use).

type, class, id and attribute selectors, `:root`, `:first-child` and `:last-child`, joined by descendant, child and
sibling combinators. A selector with anything else in it isn't read; whoever asks tells of it.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

from parts.read.svg.tree import Element

Specificity: TypeAlias = tuple[int, int, int]
_Test: TypeAlias = Callable[[Element], bool]
_COMBINATORS = (">", "+", "~")
_MOST_PARTS = 30


class NotRead(Exception):
    """A selector that isn't read."""


@dataclass(frozen=True, slots=True)
class _Compound:
    """Tests of one element, and how what comes before it stands to it: ' ', '>', '+', '~'."""

    tests: tuple[_Test, ...]
    combinator: str

    def holds(self, element: Element) -> bool:
        return all(test(element) for test in self.tests)


@dataclass(frozen=True, slots=True)
class Selector:
    """One selector: its compounds from left to right, its weight, and a class, id or type its subject must have."""

    compounds: tuple[_Compound, ...]
    specificity: Specificity
    key: str

    def matches(self, element: Element) -> bool:
        """Tell whether it is about an element; each compound is asked of each element around it once at most."""
        return self._matches(len(self.compounds) - 1, element, {})

    def _matches(self, last: int, element: Element, known: dict[tuple[int, int], bool]) -> bool:
        asked = last, id(element)
        if asked not in known:
            compound = self.compounds[last]
            known[asked] = compound.holds(element) and (
                last == 0 or any(self._matches(last - 1, e, known) for e in _before(element, compound.combinator))
            )
        return known[asked]


def _before(element: Element, combinator: str) -> Iterator[Element]:
    """The elements that may stand before a combinator."""
    parent = element.parent
    if combinator in "+~" and parent:
        least = max(element.number - 1, 0) if combinator == "+" else 0
        yield from parent.children[least : element.number]
    while parent and combinator in " >":
        yield parent
        parent = parent.parent if combinator == " " else None


def selectors(prelude: Sequence[Any]) -> list[Selector]:
    """Return the selectors of a rule, by the tokens before its braces.

    Raises:
        NotRead: if one of them isn't read.
    """
    parts: list[list[Any]] = [[]]
    for token in prelude:
        if token.type == "literal" and token.value == ",":
            parts.append([])
        else:
            parts[-1].append(token)
    return [_selector(part) for part in parts]


def _selector(tokens: Sequence[Any]) -> Selector:
    reader = _Reader(tokens)
    compounds: list[_Compound] = []
    weight = (0, 0, 0)
    combinator = ""
    key = ""
    while True:
        tests, more, key = reader.compound()
        weight = (weight[0] + more[0], weight[1] + more[1], weight[2] + more[2])
        compounds.append(_Compound(tuple(tests), combinator))
        combinator = reader.combinator()
        if not combinator:
            return Selector(tuple(compounds), weight, key)
        if len(compounds) > _MOST_PARTS:
            raise NotRead


class _Reader:
    """Walks the tokens of one selector."""

    def __init__(self, tokens: Sequence[Any]) -> None:
        self._tokens = [token for token in tokens if token.type != "comment"]
        self._at = 0
        self._blanks()

    def _peek(self) -> tuple[str, str]:
        if self._at < len(self._tokens):
            token = self._tokens[self._at]
            return token.type, str(getattr(token, "value", ""))
        return "", ""

    def _blanks(self) -> bool:
        start = self._at
        while self._peek()[0] == "whitespace":
            self._at += 1
        return self._at > start

    def combinator(self) -> str:
        """Take what joins two compounds; nothing at the end."""
        apart = self._blanks()
        kind, value = self._peek()
        if not kind:
            return ""
        if kind == "literal" and value in _COMBINATORS:
            self._at += 1
            self._blanks()
            return value
        if not apart:
            raise NotRead
        return " "

    def compound(self) -> tuple[list[_Test], Specificity, str]:
        """Take the simple selectors of one element: its tests, their weight, and what it must have."""
        tests: list[_Test] = []
        weight = [0, 0, 0]
        key = ""
        while (found := self._simple(first=not tests)) is not None:
            test, place, must = found
            tests.append(test)
            if place is not None:
                weight[place] += 1
            key = must if must and (not key or must.startswith("#")) else key
            self._at += 1
        if not tests:
            raise NotRead
        return tests, (weight[0], weight[1], weight[2]), key

    def _simple(self, first: bool) -> tuple[_Test, int | None, str] | None:
        """The test of a simple selector, where its weight counts, and what it asks for; None where there is none."""
        kind, value = self._peek()
        if kind == "ident" and first:
            return _named(value), 2, value
        if kind == "literal" and value == "*" and first:
            return lambda _: True, None, ""
        if kind == "hash":
            return _attribute("id", "=", value), 0, f"#{value}"
        if kind == "[] block":
            return _bracketed(self._tokens[self._at].content), 1, ""
        if kind != "literal" or value not in (".", ":"):
            return None
        self._at += 1
        name_kind, name = self._peek()
        if name_kind != "ident":
            raise NotRead
        return (_attribute("class", "~=", name), 1, f".{name}") if value == "." else (_pseudo(name), 1, "")


def _named(name: str) -> _Test:
    return lambda element: element.name == name


def _pseudo(name: str) -> _Test:
    test = _PSEUDO.get(name.lower())
    if test is None:
        raise NotRead
    return test


_PSEUDO: dict[str, _Test] = {
    "root": lambda element: element.parent is None,
    "first-child": lambda element: element.parent is not None and element.number == 0,
    "last-child": lambda element: element.parent is not None and element is element.parent.children[-1],
    # what only happens while someone points at it never happens in a drawing
    **dict.fromkeys(("hover", "focus", "active", "visited", "focus-visible", "focus-within"), lambda _: False),
}


def _bracketed(tokens: Sequence[Any]) -> _Test:
    """A test by attribute: [name], [name=value] and its kin."""
    found = [token for token in tokens if token.type not in ("whitespace", "comment")]
    if not found or found[0].type != "ident":
        raise NotRead
    name = found[0].value
    if len(found) == 1:
        return lambda element: name in element.attributes
    if len(found) != 3 or found[2].type not in ("ident", "string") or found[1].value not in _COMPARED:
        raise NotRead
    return _attribute(name, found[1].value, found[2].value)


_COMPARED: dict[str, Callable[[str, str], bool]] = {
    "=": lambda has, wanted: has == wanted,
    "~=": lambda has, wanted: wanted in has.split(),
    "|=": lambda has, wanted: has == wanted or has.startswith(f"{wanted}-"),
    "^=": lambda has, wanted: bool(wanted) and has.startswith(wanted),
    "$=": lambda has, wanted: bool(wanted) and has.endswith(wanted),
    "*=": lambda has, wanted: bool(wanted) and wanted in has,
}


def _attribute(name: str, how: str, wanted: str) -> _Test:
    compared = _COMPARED[how]
    return lambda element: name in element.attributes and compared(element.attributes[name], wanted)
