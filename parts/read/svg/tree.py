"""SVG as a tree of elements, read so that a hostile file can do nothing: little expanded, nothing fetched.

Names, attributes, nesting and the text of style sheets are kept; other text isn't. Expat reads no outside file unless
it is asked to, and here isn't. Entities that a file declares for itself, as drawing programs do for long names, stand
for plain text of bounded length; one that points outside the file, or is made of others, is refused.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from xml.parsers import expat

from parts.errors import Unreadable
from parts.read.limits import DEEPEST_ELEMENTS, MOST_RECORDS, Budget, shown

_SVG_SPACES = ("", "http://www.w3.org/2000/svg")
_MOST_ELEMENTS = MOST_RECORDS // 2
_MOST_ENTITIES = 200
_LONGEST_ENTITY = 2000
_MOST_EXPANDED = 4_000_000
_LONGEST_SHEET = 5_000_000


@dataclass(slots=True, eq=False)
class Element:
    """One element: its name without namespace (empty for elements that aren't SVG's), attributes, children.

    `text` is kept of a style sheet alone; `number` is the element's place among its parent's children, from 0.
    """

    name: str
    attributes: Mapping[str, str]
    parent: "Element | None" = None
    number: int = 0
    text: str = ""
    children: list["Element"] = field(default_factory=list)

    def get(self, name: str, default: str = "") -> str:
        """Return an attribute."""
        return self.attributes.get(name, default)

    def with_attributes(self, others: Mapping[str, str]) -> "Element":
        """Return the element with some attributes exchanged."""
        return Element(
            self.name, {**self.attributes, **others}, self.parent, self.number, self.text, self.children
        ) if others else self  # fmt: skip


@dataclass(slots=True)
class Tree:
    """The root element, every element with an `id` by it, the style sheets, and how many lie outside the file."""

    root: Element
    by_id: dict[str, Element]
    sheets: list[str] = field(default_factory=list)
    outside_sheets: int = 0


def tree(data: bytes, budget: Budget) -> Tree:
    """Return the elements of an SVG file.

    Raises:
        Unreadable: if it isn't SVG, is broken, declares entities that can hide anything, or holds too much.
    """
    builder = _Builder(budget, data.count(b"&"))
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler = builder.start
    parser.EndElementHandler = builder.end
    parser.CharacterDataHandler = builder.characters
    parser.EntityDeclHandler = builder.entity
    parser.ProcessingInstructionHandler = builder.instruction
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        what = expat.errors.messages.get(error.code, "not well formed")
        raise Unreadable(f"its XML is broken on line {error.lineno}: {what}") from None
    except (LookupError, ValueError):  # an encoding Python doesn't know, or can't be used for XML
        raise Unreadable("it states an encoding that isn't known; save it as UTF-8") from None
    if builder.root is None or builder.root.name != "svg":
        raise Unreadable("it is XML and not an SVG drawing")
    return Tree(builder.root, builder.by_id, builder.sheets, builder.outside_sheets)


class _Builder:
    """Takes the parser's events; `references` is the most entities that the file can refer to."""

    def __init__(self, budget: Budget, references: int) -> None:
        self._budget = budget
        self._references = references
        self._open: list[Element] = []
        self._count = self._entities = self._sheet_length = 0
        self._sheet: list[str] = []
        self.root: Element | None = None
        self.by_id: dict[str, Element] = {}
        self.sheets: list[str] = []
        self.outside_sheets = 0

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
        parent = self._open[-1] if self._open else None
        element = Element(local if space in _SVG_SPACES else "", known, parent, len(parent.children) if parent else 0)
        if parent:
            parent.children.append(element)
        else:
            self.root = element
        if "id" in known:
            self.by_id.setdefault(known["id"], element)
        self._open.append(element)

    def characters(self, text: str) -> None:
        """Keep the text of a style sheet."""
        if self._open and self._open[-1].name == "style":
            self._sheet_length += len(text)
            if self._sheet_length > _LONGEST_SHEET:
                raise Unreadable(f"its style sheets are longer than {_LONGEST_SHEET:,} characters")
            self._sheet.append(text)

    def end(self, _name: str) -> None:
        """Close the element opened last."""
        element = self._open.pop()
        if element.name == "style":
            element.text, self._sheet = "".join(self._sheet), []
            if element.get("type", "text/css").strip().lower() in ("", "text/css"):
                self.sheets.append(element.text)

    def instruction(self, target: str, _data: str) -> None:
        """Count a style sheet that lies elsewhere."""
        self.outside_sheets += target == "xml-stylesheet"

    def entity(self, name: str, parameter: bool, value: str | None, *_elsewhere: object) -> None:
        """Let the parser have an entity that stands for a short text; refuse any other."""
        if value is None:
            raise Unreadable(
                f"it declares XML entities that lie outside the file ({shown(name)}); save it with all that it needs"
            )
        if parameter or "&" in value or "<" in value or "%" in value:
            raise Unreadable(
                f"it declares XML entities that stand for more than plain text ({shown(name)}) and can hide anything"
            )
        self._entities += 1
        too_long = len(value) > _LONGEST_ENTITY or len(value) * self._references > _MOST_EXPANDED
        if too_long or self._entities > _MOST_ENTITIES:
            raise Unreadable("it declares XML entities that stand for more text than a drawing needs")
