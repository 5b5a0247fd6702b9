"""Reopened: bytes -> what the file says of itself -> template and values -> the part -> what was edited since."""

import json
import math
import re
import shlex
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import PurePath
from typing import Any
from urllib.parse import parse_qsl, urlencode, urlsplit

from parts.errors import GeometryError, Refused, UnknownTemplate, Unreadable
from parts.part import Part, address, draw
from parts.read import shown
from parts.record import VERSION
from parts.reopen.differences import MOST_TOLD, Compared, Difference, What, compared
from parts.reopen.facts import MOST_VALUES, Facts, facts_in
from parts.reopen.lines import lines_in, lines_of
from parts.reopen.whole import AS_DRAWN, Whole
from parts.spec import Parameters, Template, Value
from parts.templates import FORMER, template
from parts.truing import Errors
from parts.units import format_angle, with_unit

COMPARED = ("dxf", "svg", "json")
"""Formats whose outline is compared with what their values draw."""
OWN = {"own-drawing": "a drawing of your own, checked", "own-outline": "an outline of your own, traced"}
"""What Platewright writes that no template draws."""
_COMPENSATED = re.compile(
    r"COMPENSATED for (.+), to be cut on no other: undoes X ([+-][0-9]+\.[0-9]+) %, Y ([+-][0-9]+\.[0-9]+) %, "
    r"axes ([+-][0-9]+\.[0-9]+) deg from square"
)


@dataclass(frozen=True)
class Reopened:
    """A part as a file brings it back, and how the file's outline differs from what its values draw.

    `compared` is None where the format's outline isn't compared; `part` is as the file has it, compensated or not.
    """

    name: str
    facts: Facts
    part: Part
    compared: Compared | None

    @property
    def edited(self) -> bool | None:
        """Whether the outline in the file was changed since it was written; None where it isn't compared."""
        return None if self.compared is None else self.compared.is_edited

    @property
    def parameters(self) -> Mapping[str, Value]:
        """Every value that the file tells, mm and degrees."""
        return self.part.record.told

    @property
    def address(self) -> str:
        """The address that draws the part."""
        return self.part.record.address

    @property
    def said(self) -> tuple[str, ...]:
        """What there is to say of the file, a sentence each."""
        return tuple(self._said())

    def _said(self) -> Iterator[str]:
        facts = self.facts
        if not facts.version:
            yield "Another program wrote it anew: what its address doesn't say is as it is here and today."
        elif facts.version != VERSION:
            wrote = shown(facts.version)
            yield f"It was written by Platewright {wrote}, and this is {VERSION}: compare it with the part you know."
        if facts.compensated:
            yield f"{facts.compensated}. The address draws the part as it shall be."
        if self.compared is None:
            yield f"The values are read from it; what {facts.kind.upper()} shows isn't compared with what they draw."
        elif self.compared.is_edited:
            yield from self._edits(self.compared)
        else:
            yield "Its outline is as these values draw it."

    def _edits(self, found: Compared) -> Iterator[str]:
        yield f"Its outline isn't what these values draw{self._how(found)}."
        if found.unread:
            kinds = ", ".join(f"{count} {kind}" for kind, count in Counter(found.unread).items())
            yield f"What isn't read stands in it too: {kinds}."
        yield (
            "It was edited since, or the shop's own numbers or the version were others. To keep what the file shows, "
            "take it as a drawing of your own."
        )

    def as_own(self, path: str) -> str:
        """Return the command that takes the file at `path` as a drawing of one's own; "" where none reads it."""
        if self.facts.kind == "json":
            return ""
        record = self.part.record
        thickness = record.specs["thickness"].text(record.parameters["thickness"], record.units)
        return f"platewright check {shlex.quote(path)} --thickness {thickness}"

    def _how(self, found: Compared) -> str:
        """How it differs, in a clause after the words that it does."""
        say = self.part.record.job.say
        if found.elsewhere:
            return ": its lines are where they should be, on other layers or none, and the layer says how a line is cut"
        if found.whole != AS_DRAWN:
            return f": the whole is {_done(found.whole, say)}"
        if not found.differences:
            return "".join(f": on {layer} something is there twice, or missing" for layer, _ in found.lengths[:1])
        counts = Counter(each.what for each in found.differences)
        by = [f"{counts[what]} {words}" for what, words in _WORDS.items() if counts[what]]
        worst = max((d for d in found.differences if d.off_mm < math.inf), key=lambda d: d.off_mm, default=None)
        most = f"; furthest off at {self._place(worst)}, by {say(worst.off_mm)}" if worst else ""
        return f": {' and '.join(by)}{most}"

    def _place(self, difference: Difference) -> str:
        record = self.part.record
        return with_unit(", ".join(record.number(v) for v in difference.at), record.job.units)

    def to_json(self) -> str:
        """Return it as JSON text: template, values, address, whether it was edited, and where; lengths in mm."""
        found = self.compared
        told, whole = (found.differences[:MOST_TOLD], found.whole) if found else ((), AS_DRAWN)
        content: dict[str, Any] = {
            "template": self.part.record.template.slug,
            "parameters": dict(self.parameters),
            "address": self.address,
            "edited": self.edited,
            "format": self.facts.kind,
            "platewright_version": self.facts.version,
            "said": list(self.said),
            "differences": [_row(each) for each in told],
            "differences_in_all": len(found.differences) if found else 0,
            "scaled": whole.scaled,
            "moved_mm": list(whole.moved),
            "turned_deg": math.degrees(whole.turned),
            "mirrored": whole.mirrored,
        }
        return f"{json.dumps(content, indent=1, ensure_ascii=False, allow_nan=False)}\n"


_WORDS: Mapping[What, str] = {
    "added": "of its lines, arcs and points aren't drawn by them",
    "missing": "of those that they draw aren't in it",
}


def _done(whole: Whole, say: Callable[[float], str]) -> str:
    """What was done to the whole, in words; where it lies after a turn says nothing more."""
    if whole.scaled != 1.0:
        return f"{whole.scaled:.6g} times as large"
    by = f"turned by {format_angle(abs(math.degrees(whole.turned)))}"
    way = "" if abs(whole.turned) == math.pi else " to the left" if whole.turned > 0 else " to the right"
    if whole.mirrored:
        plain = {0.0: "mirrored, top for bottom", math.pi: "mirrored, left for right"}.get(abs(whole.turned))
        return plain or f"mirrored, top for bottom, and {by}{way}"
    if whole.turned:
        return f"{by}{way}"
    across, up = (say(v) for v in whole.moved)
    return f"moved by {across} in x and {up} in y"


def _row(each: Difference) -> dict[str, Any]:
    off = each.off_mm if each.off_mm < math.inf else None
    return {"what": each.what, "layer": each.layer, "at": list(each.at), "off_mm": off}


def reopen(data: bytes, filename: str) -> Reopened:
    """Return the part that a file of Platewright's is of, and what was edited in it since.

    Args:
        data: the file's bytes; what they are is told by them, not by the name.
        filename: what to call it.

    Raises:
        Unreadable: it is broken, hostile, too large, of another program, of no template, or contradicts itself.
        Refused: its values can't be drawn by this version; the problems name each.
    """
    name = shown(PurePath(filename).name) or "The file"
    facts = facts_in(data, name)
    chosen, values = _asked(facts, name)
    part = _compensated(draw(chosen.slug, **values), facts.compensated, name)
    if facts.kind not in COMPARED or facts.shows:
        return Reopened(name, facts, part, None)
    there = lines_in(data, name, facts.kind, part.record, facts.content)
    return Reopened(name, facts, part, compared(there, lines_of(part.record, facts.kind)))


def address_in(data: bytes, filename: str) -> tuple[str, str]:
    """Return the title of the part that a file is of, and the address that draws it, without drawing it.

    Raises:
        Unreadable: as of `reopen`.
        Refused: as of `reopen`, where that shows without drawing.
    """
    name = shown(PurePath(filename).name) or "The file"
    chosen, values = _asked(facts_in(data, name), name)
    return chosen.title, address(chosen.slug, chosen.parameters.read(values).texts())


def _asked(facts: Facts, name: str) -> tuple[Template, Mapping[str, Any]]:
    """The template of a file, and every value that it gives.

    The address gives those that differ from the defaults of its time and shop, the list all of them.
    """
    if facts.template in OWN:
        raise Unreadable(
            f"{name} is {OWN[facts.template]}: no template draws it, so there are no values to bring back. "
            f"Take it as a drawing: platewright check {name}."
        )
    facts = _current(facts)
    try:
        chosen = template(facts.template)
    except UnknownTemplate as error:
        raise Unreadable(f"{name} is of a template that isn't here. {error}") from error
    stated = _stated(facts, name)
    known = chosen.parameters.specs()
    unknown = [word for word in {**stated, **facts.parameters} if word not in known]
    if unknown:
        word = shown(str(unknown[0]))
        raise Unreadable(
            f"{name} gives a value of {word}, which {chosen.slug} doesn't have in this version ({VERSION})."
        )
    listed = {word: value for word, value in facts.parameters.items() if isinstance(value, str | int | float)}
    if len(listed) < len(facts.parameters):
        raise Unreadable(f"{name} is damaged: some of its values are neither text nor numbers.")
    _agree(chosen, stated, listed, name)
    return chosen, {**stated, **listed}


def _current(facts: Facts) -> Facts:
    """The same of the template that a former one is of now."""
    now = FORMER.get(facts.template)
    if now is None:
        return facts
    path, _, query = facts.address.partition("?")
    moved = f"/parts/{now.slug}" if path == f"/parts/{facts.template}" else path
    address_now = (
        f"{moved}?{urlencode(now.ahead(dict(parse_qsl(query))))}{'&' if query else ''}{query}" if facts.address else ""
    )
    listed = {**now.ahead(facts.parameters), **facts.parameters} if facts.parameters else facts.parameters
    return replace(facts, template=now.slug, address=address_now, parameters=listed)


def _stated(facts: Facts, name: str) -> Mapping[str, str]:
    """The values in the address.

    Raises:
        Unreadable: it is another template's, or no address of a part.
    """
    try:
        split = urlsplit(facts.address)
        pairs = parse_qsl(split.query, keep_blank_values=True, max_num_fields=MOST_VALUES)
    except ValueError as error:
        raise Unreadable(f"{name} is damaged: its address can't be read.") from error
    if facts.address and split.path != f"/parts/{facts.template}":
        raise Unreadable(f"{name} contradicts itself: its template is {shown(facts.template)}, its address another's.")
    if not facts.address and not facts.parameters:
        raise Unreadable(f"{name} names a template, {shown(facts.template)}, and no values: they were taken out of it.")
    return dict(pairs)


def _agree(chosen: Template, stated: Mapping[str, Any], listed: Mapping[str, Any], name: str) -> None:
    """Pass where the address and the list give the same values."""
    units = listed.get("units", stated.get("units"))
    both = [word for word in stated if word in listed and word != "units"]
    for word in both:
        with_units = {"units": units} if units is not None else {}
        one, other = (_read(chosen.parameters, {word: each[word], **with_units}, word) for each in (stated, listed))
        if one != other:
            raise Unreadable(
                f"{name} contradicts itself: {word} is {shown(str(stated[word]))} in its address and "
                f"{shown(str(listed[word]))} in its list. It was changed by hand; open its address, or draw it anew."
            )


def _read(parameters: type[Parameters], values: Mapping[str, Any], word: str) -> Value | None:
    """One value read, None where it is refused, which drawing tells."""
    try:
        return getattr(parameters.read_singly(values), word)  # type: ignore[no-any-return]
    except Refused:
        return None


def _compensated(part: Part, sentence: str, name: str) -> Part:
    """The part as it is drawn for the table that a sentence in a file is about."""
    if not sentence:
        return part
    match = _COMPENSATED.fullmatch(sentence)
    if match is None:
        raise Unreadable(f"{name} is compensated for a table, and what it says of that can't be read.")
    x, y, square = (float(match[i]) for i in (2, 3, 4))
    try:
        return part.compensated(Errors(x / 100, y / 100, math.radians(square)), match[1])
    except (Refused, GeometryError) as error:
        raise Unreadable(f"{name} is compensated for a table by more than is drawn: {error}.") from error
