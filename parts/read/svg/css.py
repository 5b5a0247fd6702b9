"""CSS of a drawing: its style sheets, style attributes and presentation attributes as one list of declarations.

Of two declarations of one property the later wins in this order: presentation attributes, rules by specificity and
then place, the style attribute; and in the same order again what is marked `!important` (CSS Cascade 4, section 6;
SVG 2, section 6.6). Rules for print and other media than a screen aren't followed.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, TypeAlias

import tinycss2

from parts.errors import Unreadable
from parts.read.limits import Budget
from parts.read.svg.selectors import NotRead, Selector, Specificity, selectors
from parts.read.svg.tree import Element, Tree

Declarations: TypeAlias = tuple[tuple[str, str, bool], ...]
"""Name, value, and whether it is marked important."""

_MEDIA = ("", "all", "screen", "only screen", "screen, print", "print, screen", "all, print")
_PLAIN = frozenset("\\\"'(/!@{}")  # none of these in a style attribute: it is names and values alone
_DEEPEST = 4
_LONGEST_STYLE = 20_000
_LONGEST_SHEETS = 150_000
# Pictures and typefaces carried along, which say nothing of what is painted.
_CARRIED = re.compile(r"url\(\s*[\"']?data:[^)\"']*[\"']?\s*\)")


@dataclass(frozen=True, slots=True)
class _Rule:
    selector: Selector
    declarations: Declarations
    order: int

    @property
    def weight(self) -> tuple[Specificity, int]:
        return self.selector.specificity, self.order


@dataclass(slots=True)
class Sheet:
    """The rules of a drawing, by what their subject must have; and what of them isn't read."""

    by_key: dict[str, list[_Rule]] = field(default_factory=dict)
    not_read: int = 0
    outside: int = 0

    def declared(self, element: Element, budget: Budget) -> dict[str, str]:
        """Return the value of each property that is said of an element itself."""
        found = {name: value.strip() for name, value in element.attributes.items() if name in PROPERTIES}
        return found | self._declared(element, budget)

    def _declared(self, element: Element, budget: Budget) -> dict[str, str]:
        """What rules and the style attribute say, which goes before attributes."""
        rules = sorted(self._about(element, budget), key=lambda rule: rule.weight) if self.by_key else []
        said = [*(rule.declarations for rule in rules), _attribute(element.get("style"))]
        found: dict[str, str] = {}
        for important in (False, True):
            for declarations in said:
                found |= {name: value for name, value, marked in declarations if marked is important}
        return found

    def sizes(self, element: Element, names: Sequence[str], budget: Budget) -> dict[str, str]:
        """Return those of the sizes of a shape that a rule or a style states, which go before its attributes."""
        if not self.by_key and "style" not in element.attributes:
            return {}
        said = self._declared(element, budget)
        return {name: said[name] for name in names if name in said and not said[name].startswith("var(")}

    def _about(self, element: Element, budget: Budget) -> Iterator[_Rule]:
        classes = {f".{name}" for name in element.get("class").split()}
        for key in ("", element.name, f"#{element.get('id')}", *sorted(classes)):
            for rule in self.by_key.get(key, ()):
                budget.time()
                if rule.selector.matches(element):
                    yield rule


PROPERTIES = frozenset({
    "clip-path", "clip-rule", "color", "display", "fill", "fill-opacity", "fill-rule", "filter", "marker-end",
    "marker-mid", "marker-start", "mask", "mask-type", "opacity", "overflow", "stop-color", "stop-opacity", "stroke",
    "stroke-dasharray", "stroke-dashoffset", "stroke-linecap", "stroke-linejoin", "stroke-miterlimit",
    "stroke-opacity", "stroke-width", "transform", "transform-box", "transform-origin", "vector-effect", "visibility",
})  # fmt: skip
"""Properties that decide what is painted, each of which may stand as an attribute."""


def sheet(read: Tree, budget: Budget) -> Sheet:
    """Return the rules of all of a drawing's style sheets.

    Raises:
        Unreadable: if they are too long.
    """
    made = Sheet(outside=read.outside_sheets)
    order = 0
    texts = [_CARRIED.sub("none", text) for text in read.sheets]
    if sum(map(len, texts)) > _LONGEST_SHEETS:
        raise Unreadable(f"its style sheets are longer than {_LONGEST_SHEETS:,} characters")
    for text in texts:
        rules = tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True)
        for prelude, content in _rules(rules, made, 0):
            budget.time()
            order += 1
            try:
                found = selectors(prelude)
            except NotRead:
                made.not_read += 1
                continue
            declarations = _declarations(content)
            for selector in found:
                made.by_key.setdefault(selector.key, []).append(_Rule(selector, declarations, order))
    return made


def _rules(rules: Sequence[Any], made: Sheet, depth: int) -> Iterator[tuple[Sequence[Any], Sequence[Any]]]:
    """The rules that apply to a drawing on a screen: what each is about, and what it says."""
    for rule in rules:
        if rule.type == "qualified-rule":
            yield rule.prelude, rule.content
        elif rule.type == "at-rule" and rule.lower_at_keyword == "import":
            made.outside += 1
        elif rule.type == "at-rule" and rule.lower_at_keyword in ("media", "supports") and rule.content:
            media = " ".join(_text(rule.prelude).lower().split()) if rule.lower_at_keyword == "media" else ""
            if media not in _MEDIA:
                made.not_read += not media.startswith("print")
            elif depth < _DEEPEST:
                inner = tinycss2.parse_rule_list(rule.content, skip_comments=True, skip_whitespace=True)
                yield from _rules(inner, made, depth + 1)


@lru_cache(maxsize=4096)
def _attribute(text: str) -> Declarations:
    """A style attribute; most are names and values with nothing in them that would have to be parsed."""
    if not text:
        return ()
    if len(text) > _LONGEST_STYLE:
        raise Unreadable(f"a style attribute in it is longer than {_LONGEST_STYLE:,} characters")
    if not _PLAIN & set(text):
        pairs = (entry.partition(":") for entry in text.split(";"))
        return tuple((name.strip().lower(), value.strip(), False) for name, colon, value in pairs if colon)
    return _declarations(text)


def _declarations(content: str | Sequence[Any]) -> Declarations:
    found = tinycss2.parse_blocks_contents(content, skip_comments=True, skip_whitespace=True)
    return tuple(
        (each.lower_name, _text(each.value).strip(), each.important) for each in found if each.type == "declaration"
    )


def _text(tokens: Sequence[Any]) -> str:
    try:
        return str(tinycss2.serialize(tokens))
    except RecursionError:  # of brackets in brackets, some hundred deep
        raise Unreadable("a style in it has brackets too deep in one another") from None
