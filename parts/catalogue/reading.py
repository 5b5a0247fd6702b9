"""Sizes in a search: what of the typed text is a size, and of which kind; the rest is words.

by     sizes with x, `by` or `to` between, in their order: 4 x 6, 100x60x3, 12 to 6
of     sizes with the word that says of what they are: 3 in od, 1/2 hole, 20 teeth, 45 degrees
lone   sizes that stand alone
Texts stay as typed but for their signs; `parts.units` reads them.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from parts.cached import cached_property
from parts.spec import Template
from parts.units import with_unit

LONGEST_SEARCH = 80

_NUMBER = r"(?:[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\.[0-9]+|[0-9]+)"
_UNIT = r"(?: ?(?:mm|cm|inch(?:es)?|in|feet|foot|ft)(?![a-z])| ?[\"'])"
_LENGTH = rf"{_NUMBER}{_UNIT}?"
_START, _END = r"(?<![a-z0-9./-])", r"(?![a-z0-9./])"
_BETWEEN = r"(?: ?(?:x|by|\*)[ ]?| to )"

_GAUGE = re.compile(rf"{_START}#?([0-9]{{1,2}}) ?-?(?:ga|gauge|gage){_END}")
_THICK = re.compile(
    rf"{_START}({_LENGTH}) ?(?:thick(?:ness)?|thk){_END}|\b(?:thick(?:ness)?|thk|t) ?=? ?({_LENGTH}){_END}"
)
_BY = re.compile(rf"{_START}{_LENGTH}(?:{_BETWEEN}{_LENGTH})+(?![0-9./])")
_SIZED = rf"(?:{_NUMBER}{_UNIT}|[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\.[0-9]+)"
"""A number that counts nothing: one with a unit, a fraction."""
_KINDS_OF = {
    "hole": rf"({_SIZED}) ?(?:dia(?:meter)? )?holes?",
    "bore": rf"({_LENGTH}) ?(?:id|bore|inside(?: dia(?:meter)?)?)",
    "outside": rf"({_LENGTH}) ?(?:od|outside(?: dia(?:meter)?)?)",
    "shaft": rf"({_LENGTH}) ?shafts?",
    "axle": rf"({_LENGTH}) ?axles?",
    "long": rf"({_LENGTH}) ?(?:long|length)",
    "wide": rf"({_LENGTH}) ?(?:wide|width)",
    "high": rf"({_LENGTH}) ?(?:high|tall|height)",
    "radius": rf"({_LENGTH}) ?(?:rad|radius)",
    "teeth": r"([0-9]{1,3}) ?-?(?:teeth|tooth)",
    "angle": r"([0-9]{1,3}(?:\.[0-9]+)?) ?-?(?:\u00b0|deg(?:rees?)?)",
}
_OF = {what: re.compile(f"{_START}{pattern}{_END}") for what, pattern in _KINDS_OF.items()}
_STILL_SAID = {"hole": " hole", "teeth": " teeth", "axle": " axle"}
"""What is looked for by such a size, too."""
_TIMES = re.compile(
    rf"{_START}([0-9]{{1,2}})(?:(?: ?x ?| )(?=[0-9]+/[0-9]+ (?:bolts|holes))| ?x ?(?=m[0-9]|{_LENGTH} ?(?:bolt|hole)))"
)
_COUNTED = re.compile(rf"{_START}([0-9]{{1,2}}) (?:(?=m[0-9])|(?=[0-9]+/[0-9]+ bolt)|(?:bolts?|holes?){_END})")
_METRIC_BOLT = re.compile(rf"{_START}m([0-9]{{1,2}}(?:\.5)?)(?: ?x ?[0-9.]+)?(?: (?:bolts?|holes?|screws?))?{_END}")
_INCH_BOLT = re.compile(
    rf"{_START}({_NUMBER})(?: ?in| ?\")? (?:bolts?|screws?|anchors?|pins?){_END}|\bbolts? ({_NUMBER}){_END}"
)
_LONE = re.compile(rf"{_START}{_LENGTH}{_END}")
_SIGNS = str.maketrans({
    "\u00d7": "x", **dict.fromkeys("\u2032\u2019\u2018", "'"), **dict.fromkeys("\u2033\u201d\u201c", '"'),
    **dict.fromkeys("\u2010\u2011\u2012\u2013\u2212", "-"), "\u2044": "/", ",": " ", ";": " ",
    "\u00bc": " 1/4", "\u00bd": " 1/2", "\u00be": " 3/4", "\u215b": " 1/8", "\u215c": " 3/8", "\u215d": " 5/8",
})  # fmt: skip
_IN_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_OF_AN_INCH = {"half": 2, "quarter": 4, "eighth": 8, "sixteenth": 16}
_SHARE = re.compile(
    rf"\b(?:([0-9]+) and )?(?:an? |({'|'.join(_IN_WORDS[1:])}|[0-9]{{1,2}})[ -])?"
    rf"({'|'.join(_OF_AN_INCH)})s?(?: of an)?[ -]inch(?:es)?\b"
)
"""A share of an inch in words: half inch, three eighths of an inch, 2 and a half inches."""
_SHORT = [
    (re.compile(r"\b(150|300|400|600|900|1500|2500) ?(?:#|lbs?\b)"), r"class \1"),
    (re.compile(r"#([0-9]{2,3})\b(?! ?-?(?:ga|gauge|gage)\b)"), r"number \1"),
    (re.compile(r"(?<!number )\b([0-9]{2,3}) (?=chain\b)"), r"number \1 "),
]
"""What the trade says shortly, as it is read: a flange of 150#, a #40 chain."""
_DECIMAL_INCHES = re.compile(r"0?\.[0-9]{3}")
"""As thin stock is said in inches: .060, 0.125."""

_NUMBERED = re.compile(rf"\b(?:{'|'.join(_IN_WORDS[1:])})\b(?= (?:[0-9]+/[0-9]+ )?(?:bolt|hole)s?\b)")


@dataclass(frozen=True)
class Said:
    """A search taken apart: `text` as typed, short ways in full; `words` without sizes; the sizes by kind, or ''."""

    text: str
    words: str
    by: tuple[str, ...] = ()
    lone: tuple[str, ...] = ()
    thickness: str = ""
    bolt: str = ""
    count: str = ""
    of: tuple[tuple[str, str], ...] = ()

    @property
    def has_sizes(self) -> bool:
        """Whether anything was said that a form could be filled with."""
        return any((self.by, self.lone, self.thickness, self.bolt, self.count, self.of))

    @cached_property
    def units(self) -> str:
        """The units that the sizes speak of: `in` or `mm`, '' where they say neither, or both."""
        lengths = (text for what, text in self.of if what not in ("teeth", "angle"))
        texts = [text for text in (*self.by, *self.lone, self.thickness, *lengths) if text]
        inch = any(re.search(r"in|\"|'|ft|foot|feet|/", text) or is_decimal_inches(text) for text in texts)
        metric = any(re.search(r"mm|cm", text) for text in texts)
        return "" if inch == metric else "in" if inch else "mm"

    def sizes_fit(self, template: Template) -> float:
        """Return a little for a template with as many first sizes as were said with x between."""
        least, most = 2, len(template.first_sizes) + 1  # a thickness may come last
        return 0.05 if least <= len(self.by) <= most and len(template.first_sizes) >= least else 0.0


def is_decimal_inches(text: str) -> bool:
    """Tell whether a bare number is written as thin stock is in inches: .060, 0.125."""
    return bool(_DECIMAL_INCHES.fullmatch(text))


def read(sought: str) -> Said:
    """Take a search apart into sizes and words."""
    text = " ".join(sought.translate(_SIGNS).lower()[:LONGEST_SEARCH].split())
    text = _SHARE.sub(_share, text)
    for short, long in _SHORT:
        text = short.sub(long, text)
    text = text[:LONGEST_SEARCH]
    rest = _Rest(_NUMBERED.sub(lambda found: str(_IN_WORDS.index(found[0])), text))
    gauge = rest.take(_GAUGE)
    thick = rest.take(_THICK)
    times = rest.take(_TIMES)
    by = rest.take(_BY)
    bolts = times or rest.take(_COUNTED)
    of = tuple(rest.take_of())
    metric = rest.take(_METRIC_BOLT)
    inch = rest.take(_INCH_BOLT)
    lone = tuple(filter(None, iter(lambda: rest.take(_LONE, whole=True), "")))
    return Said(
        text,
        rest.text,
        _shared_unit(by),
        lone,
        f"{gauge} ga" if gauge else thick,
        f"M{metric}" if metric else inch,
        bolts,
        of,
    )


def _share(found: re.Match[str]) -> str:
    whole, many, share = found.groups()
    over = _IN_WORDS.index(many) if many in _IN_WORDS else int(many or 1)
    number = f"{over}/{_OF_AN_INCH[share]}"
    return with_unit(f"{whole}-{number}" if whole else number, "in")


class _Rest:
    """What is left of a text while sizes are taken out of it."""

    def __init__(self, text: str) -> None:
        self.text = text

    def take(self, pattern: re.Pattern[str], *, whole: bool = False) -> str:
        """Take out the first place that fits, and return what it says; '' where none does."""
        found = pattern.search(self.text)
        if not found:
            return ""
        self.text = " ".join(f"{self.text[: found.start()]} {self.text[found.end() :]}".split())
        said = next((group for group in found.groups() if group), "") if not whole else ""
        return (said or found[0]).strip()

    def take_of(self) -> Iterator[tuple[str, str]]:
        """Take out the sizes that say of what they are; yield that and the size."""
        for what, pattern in _OF.items():
            if text := self.take(pattern):
                self.text += _STILL_SAID.get(what, "")
                yield what, text


def _shared_unit(by: str) -> tuple[str, ...]:
    """The sizes of `4 x 6 in`, each with the unit that the last one says for all that say none."""
    if not by:
        return ()
    sizes = [size.strip() for size in re.split(_BETWEEN, by)]
    unit = re.search(rf"{_UNIT}$", sizes[-1])
    bare = re.compile(_NUMBER)
    return tuple(with_unit(size, unit[0].strip()) if unit and bare.fullmatch(size) else size for size in sizes)
