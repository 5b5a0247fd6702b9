"""SVG as a tree of elements, read so that a hostile file can do nothing: no entities, nothing fetched.

Only names, attributes and nesting are kept; text isn't. Expat reads no outside file unless it is asked to,
and here isn't; a file that declares entities of its own is refused, since they can unfold without end.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NoReturn
from xml.parsers import expat

from parts.errors import Unreadable
from parts.read.limits import DEEPEST_ELEMENTS, MOST_RECORDS, Budget

_SVG_SPACES = ("", "http://www.w3.org/2000/svg")
_MOST_ELEMENTS = MOST_RECORDS // 2


@dataclass(slots=True)
class Element:
    """One element: its name without namespace (empty for elements that aren't SVG's), attributes, children."""

    name: str
    attributes: Mapping[str, str]
    children: list["Element"] = field(default_factory=list)

    def get(self, name: str, default: str = "") -> str:
        """Return an attribute."""
        return self.attributes.get(name, default)

    def style(self, name: str) -> str:
        """Return a property from the `style` attribute, or else the attribute of its name."""
        for entry in self.get("style").split(";"):
            key, _, value = entry.partition(":")
            if key.strip() == name:
                return value.strip()
        return self.get(name)


@dataclass(slots=True)
class Tree:
    """The root element, and every element with an `id` by it."""

    root: Element
    by_id: dict[str, Element]


def tree(data: bytes, budget: Budget) -> Tree:
    """Return the elements of an SVG file.

    Raises:
        Unreadable: if it isn't SVG, is broken, declares entities, or holds too much.
    """
    builder = _Builder(budget)
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler = builder.start
    parser.EndElementHandler = builder.end
    parser.EntityDeclHandler = builder.entity
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        what = expat.errors.messages.get(error.code, "not well formed")
        raise Unreadable(f"its XML is broken on line {error.lineno}: {what}") from None
    except (LookupError, ValueError):  # an encoding Python doesn't know, or can't be used for XML
        raise Unreadable("it states an encoding that isn't known; save it as UTF-8") from None
    if builder.root is None or builder.root.name != "svg":
        raise Unreadable("it is XML and not an SVG drawing")
    return Tree(builder.root, builder.by_id)


class _Builder:
    """Takes the parser's events."""

    def __init__(self, budget: Budget) -> None:
        self._budget = budget
        self._open: list[Element] = []
        self._count = 0
        self.root: Element | None = None
        self.by_id: dict[str, Element] = {}

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """Open an element."""
        self._count += 1
        self._budget.time()
        if self._count > _MOST_ELEMENTS:
            raise Unreadable(f"it holds more than {_MOST_ELEMENTS:,} elements; leave only the part's outline in it")
        if len(self._open) >= DEEPEST_ELEMENTS:
            raise Unreadable(f"its elements lie more than {DEEPEST_ELEMENTS} deep in one another")
        space, _, local = name.rpartition(" ")
        known = {key.rpartition(" ")[2]: value for key, value in attributes.items()}
        element = Element(local if space in _SVG_SPACES else "", known)
        if self._open:
            self._open[-1].children.append(element)
        else:
            self.root = element
        if "id" in known:
            self.by_id.setdefault(known["id"], element)
        self._open.append(element)

    def end(self, _name: str) -> None:
        """Close the element opened last."""
        self._open.pop()

    def entity(self, *_declaration: object) -> NoReturn:
        """Refuse a declared entity."""
        raise Unreadable("it declares XML entities, which no drawing needs and which can hide anything")
