"""Shop text -> tokens: numbers, units, gauge signs and the words of spoken fractions.

    token    one number, word or mark of a typed text
    spoken   a fraction in words (three sixteenths, half an inch), turned to the written order 3 / 16
    mixed    a whole number and a fraction: 1-1/2 or 1 1/2; its hyphen never subtracts

What the tokens amount to is decided in `reading.py`. Numbers stay exact fractions.
"""

import re
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple, NoReturn
from unicodedata import normalize

from parts.errors import UnitsError

_LONGEST_TEXT = 80  # the longest sensible spoken length has about 40 characters
_LONGEST_ECHO = 40
_WIDEST_EXPONENT = 500  # beyond any float, however many digits stand before the exponent

_DECIMAL_COMMA = re.compile(r"(?<![0-9])0+,[0-9]|[0-9]{4},[0-9]|[0-9],(?:[0-9]{1,2}(?![0-9])|[0-9]{4})")
_TOKEN = re.compile(r"(?P<number>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:e[+-]?[0-9]+)?)|(?P<word>[a-z]+)\.?|(?P<mark>\S)")


class Token(NamedTuple):
    """What the text holds in one place; a unit's `text` is its short name, a number has a value."""

    kind: str
    text: str
    value: Fraction = Fraction(0)


_SIGNS = str.maketrans({
    **dict.fromkeys("\u2032\u2019\u2018\u02b9\u00b4", "'"),            # primes, curly quotes, acute
    **dict.fromkeys("\u2033\u201d\u201c\u02ba", '"'),
    **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-"),      # hyphens, dashes, minus
    **dict.fromkeys("\u2044\u2215", "/"),                              # fraction and division slash
    "\u00ba": "\u00b0",                                                # ordinal sign typed as a degree
    **{sign: f" {normalize('NFKC', sign).replace(chr(0x2044), '/')} "  # one-character fractions
       for sign in "\u00bc\u00bd\u00be" + "".join(map(chr, range(0x2150, 0x215F)))},
})  # fmt: skip

_ONES = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
]  # fmt: skip
_TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70,
    "eighty": 80, "ninety": 90,
}  # fmt: skip
_TWO_WORDS = re.compile(rf"\b({'|'.join(_TENS)})[ -]({'|'.join(_ONES[1:10])}|seconds?|fourths?)\b")


def _vocabulary() -> dict[str, Token]:
    kinds = {
        "unit mm": "mm millimetre millimetres millimeter millimeters",
        "unit cm": "cm centimetre centimetres centimeter centimeters",
        "unit m": "m metre metres meter meters",
        "unit in": 'in inch inches "',
        "unit ft": "ft foot feet '",
        "unit thou": "thou",
        "gauge ga": "ga gauge gage g",
        "# #": "#",
        "degree deg": "deg degs degree degrees \u00b0",
        "stock plate": "plate sheet",
        "article a": "a an of",
        "and and": "and",
        "/ /": "/",
        "- -": "-",
        "+ +": "+",
    }
    words: dict[str, Token] = {}
    for kind_and_text, forms in kinds.items():
        kind, text = kind_and_text.split()
        words |= {form: Token(kind, text) for form in forms.split()}
    numbers = {word: value for value, word in enumerate(_ONES)} | _TENS
    numbers |= {f"{ten}{_ONES[one]}": _TENS[ten] + one for ten in _TENS for one in range(1, 10)}
    words |= {word: Token("number", str(value), Fraction(value)) for word, value in numbers.items()}
    parts = {"half": 2, "quarter": 4, "fourth": 4, "eighth": 8, "sixteenth": 16, "thirtysecond": 32,
             "sixtyfourth": 64}  # fmt: skip
    for word, value in (parts | {"halve": 2}).items():
        words[word] = words[f"{word}s"] = Token("parts", str(value), Fraction(value))
    return words


_WORDS = _vocabulary()
_ONE = Token("number", "1", Fraction(1))


def _tokens(text: str) -> Iterator[Token]:
    """Yield the words, numbers and marks of `text`, in time proportional to its length."""
    text = _TWO_WORDS.sub(r"\1\2", text.lower().translate(_SIGNS).replace("''", '"'))
    for match in _TOKEN.finditer(text):
        number, word, mark = match.groups()
        if number:
            yield Token("number", number, _decimal(number))
        else:
            found = word or mark
            yield _WORDS.get(found, Token("unknown", found))


def _decimal(numeral: str) -> Fraction:
    """Read digits, point and exponent exactly; a wild exponent is cut to one that still won't fit a float."""
    mantissa, _, exponent = numeral.partition("e")
    power = max(-_WIDEST_EXPONENT, min(_WIDEST_EXPONENT, int(exponent or "0")))
    return Fraction(Decimal(mantissa)) * Fraction(10) ** power


def _written(tokens: Iterator[Token]) -> list[Token]:
    """Put spoken fractions as written: half an inch -> 1 / 2 in, inch and a half -> 1 and 1 / 2 in."""
    out: list[Token] = []
    for token in tokens:
        if token.kind == "parts":
            if len(out) > 1 and out[-1].kind == "-" and out[-2].kind == "number":  # three-sixteenths
                out.pop()
            _need_number(out)
            out += [_WORDS["/"], Token("number", token.text, token.value)]
        else:
            if token.kind == "unit" and out and out[-1].kind == "article":
                _need_number(out)
            out.append(token)
    if [t.kind for t in out[-5:]] == ["unit", "and", "number", "/", "number"] and out[-5].text == "in":
        out.append(out.pop(-5))
        if out[0].kind == "and":
            out.insert(0, _ONE)
    return out


def _need_number(out: list[Token]) -> None:
    """Take articles off the end; where no number stands there then, the article meant one."""
    while out and out[-1].kind == "article":
        out.pop()
    if not out or out[-1].kind != "number":
        out.append(_ONE)


class Term(NamedTuple):
    """A number with the unit after it and the word or hyphen before it, each '' where there is none."""

    value: Fraction
    fraction: bool
    unit: str
    joiner: str


class Reader:
    """A cursor over the tokens of one typed text; every refusal quotes that text."""

    def __init__(self, text: str, want: str) -> None:
        self.text, self.want, self.at = text, want, 0
        if len(text) > _LONGEST_TEXT:
            self.refuse(f"is {len(text)} characters long")
        if not text.strip():
            raise UnitsError(f"Nothing was written: {want}.")
        if "," in text:
            self.refuse(*_comma(text))
        self.tokens = _written(_tokens(text))

    def refuse(self, why: str, want: str = "") -> NoReturn:
        """Raise the refusal: what was read, why not, what would do."""
        raise UnitsError(f"{echo(self.text)} {why}: {want or self.want}.")

    def kind(self, ahead: int = 0) -> str:
        """Return the kind of a coming token, '' past the end."""
        at = self.at + ahead
        return self.tokens[at].kind if at < len(self.tokens) else ""

    def skip(self, *kinds: str) -> str:
        """Step over a token of these kinds; return its kind, '' where there was none."""
        kind = self.kind()
        if kind not in kinds:
            return ""
        self.at += 1
        return kind

    def number(self) -> Token:
        """Step over a number and return it."""
        if self.kind() != "number":
            self.unexpected()
        self.at += 1
        return self.tokens[self.at - 1]

    def unexpected(self) -> NoReturn:
        """Say what stands where a number or the end should be."""
        if not self.kind():
            self.refuse("stops where a number should follow")
        token = self.tokens[self.at]
        if token.kind in ("gauge", "#"):
            self.refuse("is a gauge, which is the name of a thickness and not a plain measure")
        if token.kind == "degree":
            self.refuse("is an angle")
        if token.kind == "unit":
            self.refuse("has two units in a row" if self.at else "has a unit without a number")
        if token.text.isalpha():
            what = "is" if len(self.tokens) == 1 else f"has {echo(token.text)}, which is"
            self.refuse(f"{what} neither a number nor a unit known here")
        self.refuse(f"has {echo(token.text)} where it can't be understood")

    def magnitude(self) -> tuple[Fraction, bool]:
        """Read 2.5, 3/16 or 1-1/2; tell whether it was a fraction."""
        first = self.number()
        if self.kind() == "/":
            return self.over(first), True
        joined = int(self.kind() in ("-", "and"))
        if self.kind(joined) != "number" or self.kind(joined + 1) != "/":
            return first.value, False
        self.at += joined
        rest = self.over(self.number())
        if not first.text.isdigit() or rest >= 1:
            self.refuse("is not a whole number and a fraction less than one")
        return first.value + rest, True

    def over(self, above: Token) -> Fraction:
        """Read the rest of a fraction that begins with `above`."""
        self.skip("/")
        below = self.number()
        if not (above.text.isdigit() and below.text.isdigit()):
            self.refuse("has a decimal inside a fraction")
        if not below.value:
            self.refuse("divides by zero")
        return above.value / below.value

    def part(self, joiner: str) -> Term:
        """Read a number and the unit after it, if any."""
        value, fraction = self.magnitude()
        if self.kind() == "-" and self.kind(1) == "unit":  # half-inch
            self.skip("-")
        unit = self.tokens[self.at - 1].text if self.skip("unit") else ""
        return Term(value, fraction, unit, joiner)

    def sign(self) -> int:
        """Read a leading sign."""
        return -1 if self.skip("-", "+") == "-" else 1

    def scalar(self, *unit: str) -> Fraction:
        """Read one number that fills the whole text, with or without a unit of this kind."""
        value = self.sign() * self.magnitude()[0]
        self.skip(*unit)
        if self.kind() in ("unit", "degree"):
            self.refuse("has a unit that doesn't belong here")
        if self.kind():
            self.unexpected()
        return value

    def to_float(self, value: Fraction) -> float:
        """Round once, refusing what a float can't hold."""
        try:
            number = float(value)
        except OverflowError:
            self.refuse("is too large to work with")
        if value and not number:
            self.refuse("is too small to work with")
        return number


def echo(text: str) -> str:
    """Quote a typed text in a refusal: cut short, and what can't be printed escaped."""
    quoted = repr(text[: _LONGEST_ECHO + 1])
    return quoted if len(quoted) <= _LONGEST_ECHO + 2 else f"{quoted[: _LONGEST_ECHO + 1]}...{quoted[0]}"


def _comma(text: str) -> tuple[str, str]:
    """Why a text with a comma isn't read, and what to write: one that can't mark thousands is a decimal comma."""
    text, why = text.strip(), "has a comma, which could be a decimal or a thousands mark"
    if text.count(",") > 1 or "." in text or len(text) > _LONGEST_ECHO or not text.isprintable():
        return why, "write decimals with a point and thousands without a mark"
    decimal = f"write {text.replace(',', '.')} with a point"
    if _DECIMAL_COMMA.search(text):
        return "has a comma", decimal
    return why, f"{decimal}, or {text.replace(',', '')} without the comma"
