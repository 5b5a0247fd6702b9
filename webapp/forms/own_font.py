"""A font of someone's own that comes with a request: lent to whatever the request draws, and gone with it.

An address can say which font it means, by its word, and can't carry it; so a part in such a font is asked for by a
form, its values in the address or beside the file. Without scripts the page that answers carries the file along, as
that of a drawing does.
"""

from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from urllib.parse import parse_qsl

from flask import request
from werkzeug.datastructures import MultiDict

from parts import Problem, Refused
from webapp.forms.carried_file import LARGEST_KEPT, LONGEST_NAME, packed, unpacked
from webapp.forms.most import allow

FONT_FILE, KEPT, KEPT_NAME, WAITS = "font_file", "kept_font", "kept_font_name", "kept_font_waits"
TAKE = "take"
"""The name of a button that asks for other values than the form has, by the query of an address."""
LARGEST_BYTES = 10_000_000
LARGEST_REQUEST = LARGEST_BYTES + LARGEST_KEPT + 100_000
ENDINGS = ".ttf,.otf,.woff"
FONT = "font"
OVERRUN = "takes more time or memory than there is; take a plainer font, or fewer letters."


@dataclass(frozen=True, slots=True)
class Sent:
    """What was sent: the values of address and form, and the font with its name.

    `is_new` says that it is to be drawn in, whatever the values say: it was chosen just now. `waits`, that it couldn't
    be drawn in, and is to be tried again with what is sent next, unless another is chosen.
    """

    values: "MultiDict[str, str]"
    data: bytes
    name: str
    is_new: bool
    waits: bool = False

    @property
    def kept(self) -> str:
        """The font as the text of a hidden field; nothing where it is too large to be carried."""
        return packed(self.data)


def sent() -> Sent:
    """Return what was sent with the request at hand.

    Raises:
        Refused: there is no font, or what was kept has been tampered with.
    """
    allow(LARGEST_REQUEST, f"a font may have {LARGEST_BYTES // 1_000_000} MB")
    given = [*request.args.items(multi=True), *request.form.items(multi=True)]
    if TAKE in request.form:
        given = parse_qsl(request.form[TAKE], keep_blank_values=True)
    values = MultiDict([(name, text) for name, text in given if name not in (FONT_FILE, KEPT, KEPT_NAME, WAITS)])
    chosen = request.files.get(FONT_FILE)
    if chosen and chosen.filename:
        name = chosen.filename.replace("\\", "/").rsplit("/", 1)[-1][-LONGEST_NAME:]
        with closing(chosen):
            return Sent(values, chosen.read(LARGEST_BYTES + 1), name, is_new=True)
    if not request.form.get(KEPT):
        return Sent(values, b"", "", is_new=False)
    name = request.form.get(KEPT_NAME, "")[-LONGEST_NAME:]
    data = unpacked(request.form[KEPT], LARGEST_BYTES)
    if data is None:
        raise Refused((Problem(FONT, name, "has come apart on this page: choose its file again."),))
    waits = request.form.get(WAITS, "")
    return Sent(values, data, name, is_new=bool(waits) and values.get(FONT, waits) == waits)


@contextmanager
def lent(given: Sent) -> "Iterator[MultiDict[str, str]]":
    """Lend the font that was sent to what is drawn within; the values then ask for it, where it was chosen just now.

    Raises:
        Refused: it can't be used.
    """
    from parts.artwork.glyphs import lent as lend  # noqa: PLC0415 - slow to load, and of few requests

    values = given.values.copy()
    if not given.data:
        if given.is_new:
            raise Refused((Problem(FONT, given.name, "is empty: choose a TTF, an OTF or a WOFF."),))
        yield values
        return
    with lend(given.data, given.name) as font:
        if given.is_new:
            values[FONT] = font.word
        yield values
