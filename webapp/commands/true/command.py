"""`platewright true`: the errors of a table from measurements, or its squareness from a tape; what to change.

A file of a test bend is answered by `bend`.
"""

import argparse
import json
import math
import sys
from collections.abc import Collection, Iterator, Mapping, Sequence
from pathlib import Path

import parts
from parts import Problem, Refused
from parts.errors import DataError, UnitsError
from parts.shop import Ambiguous, taken_for
from parts.truing import METALS, Estimate, OverASheet, Report, Words, parsed, quick_check, true_tables
from parts.truing.bend import is_bend
from parts.units import Units, format_angle_error, parse_length
from webapp.commands.console import tell, text_of
from webapp.commands.true import bend
from webapp.wording import tape_lines


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.add_argument(
        "files", nargs="*", metavar="FILE", help="the measurements, TOML; - for stdin; of several pieces, all of them"
    )
    command.add_argument("--json", action="store_true", help="all of it as JSON: ratios, degrees, mm")
    command.add_argument("--units", choices=("mm", "in"), help="what the report speaks in, and bare lengths of --tape")
    command.add_argument(
        "--tape",
        nargs="+",
        metavar="LENGTH",
        help="instead of a file: A B C of a triangle such as 4ft 3ft 5ft, or A B and both diagonals, "
        "the one from the corner in question first",
    )
    command.add_argument("--u", metavar="LENGTH", help="how well each length of --tape is read; 0.5 mm unless said")
    command.add_argument(
        "--keep", action="store_true", help="of a test bend: write its answer into your machine's numbers"
    )
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Print what a table's errors are and return the exit status."""
    if bool(request.files) == (request.tape is not None):
        both = "give one of them, not both." if request.files else "give a file of measurements, or --tape and lengths."
        raise Refused((Problem("file", " ".join(request.files), both),))
    if request.tape is not None:
        _only_of_a_bend(request)
        return _tape(request)
    if request.u is not None:
        raise Refused((Problem("u", request.u, "goes with --tape; in a file each reading has its own."),))
    texts = {file: text_of(file) for file in request.files}
    if bends := [file for file, text in texts.items() if _is_of_a_bend(text)]:
        if len(request.files) > 1:
            raise Refused((Problem("file", bends[0], "is of a test bend, which is answered alone: give it alone."),))
        return bend.run(parsed(texts[bends[0]]), request)
    _only_of_a_bend(request)
    found = _of_files(request.files, texts, request.units)
    if request.json:
        sys.stdout.write(found.to_json())
    else:
        sys.stdout.writelines(f"{line}\n" for line in lines(found))
    for caution in found.cautions:
        tell(f"caution: {caution}")
    return 0


def _only_of_a_bend(request: argparse.Namespace) -> None:
    if request.keep:
        raise Refused((Problem("keep", "", "is of a test bend; a table's readings are kept on the page, /true."),))


def _is_of_a_bend(text: str) -> bool:
    try:
        return is_bend(parsed(text))
    except DataError:  # told of below, with the file's name
        return False


def _of_files(files: Sequence[str], texts: Mapping[str, str], units: Units | None) -> Report:
    """What one file says, or several together, each called by its name without folder and ending if that is its own."""
    if len(files) == 1:
        return parts.true_table(_told(texts[files[0]]), units)
    if twice := next((file for file in files if files.count(file) > 1), ""):
        raise Refused((Problem("file", twice, "is given more than once; give it once."),))
    stems = [Path(file).stem for file in files]
    names = [stem if stems.count(stem) == 1 else file for stem, file in zip(stems, files, strict=True)]
    return true_tables(
        [(name, _told(texts[file], f"{name}: ")) for name, file in zip(names, files, strict=True)], units
    )


def _told(text: str, name: str = "") -> str:
    """A file's text; what its metal is taken for, where it is in a shop's own word, is told."""
    piece = parsed(text).get("piece")
    word = str(piece.get("metal", "")).strip() if isinstance(piece, dict) else ""
    try:
        meant = taken_for("metal", word, METALS) if word else None
    except Ambiguous:  # refused where it is read
        meant = None
    if meant and meant != word.lower():
        tell(f"{name}piece metal: {word} is taken for {meant}.")
    return text


def lines(found: Report) -> Iterator[str]:
    """Yield the report for a person, a line each."""
    count = len(found.solution.readings)
    yield f"{found.table.name or 'Your table'}: {count} reading{'' if count == 1 else 's'}"
    if found.left_out:
        yield f"left out, not measured yet: {', '.join(found.left_out)}"
    yield from (f"assumed: {sentence}" for sentence in found.assumed)
    yield from (f"disagrees: {sentence}" for sentence in found.disagreements)
    yield ""
    yield "Errors, each with the interval it lies in with 95 % confidence"
    yield from (f"    {line}" for line in _errors(found))
    yield ""
    yield "What to clear up before anything is changed" if found.in_question else "What to change"
    yield from (f"    {each.sentence}" for each in sorted(found.corrections, key=lambda each: each.waits))
    absent = [why for name, why in found.missing.items() if name != "hole_shrinkage" or _has_holes(found)]
    yield from _section("What is missing", (*absent, *found.weak.values()))
    yield from _section("What a slip may have made", found.unchecked.values())
    if found.in_question:
        return
    yield ""
    yield "Over a 4 ft by 8 ft sheet, 4 ft along X"
    yield f"    now        {_over(found.before, found.words)}"
    yield f"    corrected  {_within(found.after, found.words)}"


def _section(title: str, sentences: Collection[str]) -> Iterator[str]:
    if sentences:
        yield ""
        yield title
        yield from (f"    {sentence}" for sentence in sentences)


def _has_holes(found: Report) -> bool:
    return any(reading.kind == "hole" for reading in found.solution.readings)


def _errors(found: Report) -> Iterator[str]:
    words, estimates = found.words, found.solution.estimates
    for name, title in (("scale_x", "X"), ("scale_y", "Y")):
        if each := estimates.get(name):
            yield _line(found, f"{title}, in {words.span}", each, words.span_mm, ("long", "short"))
    if angle := estimates.get("out_of_square"):
        yield _angle_line(found, angle)
    if kerf := estimates.get("kerf"):
        yield _line(found, "Jet's width", kerf, 1.0, ("more than allowed for", "less than allowed for"))
    if holes := estimates.get("hole_shrinkage"):
        yield _line(found, "Round holes", holes, 1.0, ("smaller than slots", "larger than slots"))


def _line(found: Report, title: str, of: Estimate, scale: float, ways: tuple[str, str]) -> str:
    words = found.words
    value = words.signed(of.value * scale, *ways)
    interval = words.between(of.low95 * scale, of.high95 * scale, *ways)
    return f"{title + ':':<18} {value} ({interval}){_verdict(found, of)}"


def _angle_line(found: Report, angle: Estimate) -> str:
    value, low, high = (math.degrees(each) for each in (angle.value, angle.low95, angle.high95))
    off, least, most = (format_angle_error(each, signed=True) for each in (value, low, high))
    off = off if any(digit in "123456789" for digit in off) else off.lstrip("+-\u2212")
    return (
        f"{'Axes:':<18} {format_angle_error(90 + value)} to each other, {off} from square "
        f"({least} to {most}){_verdict(found, angle)}"
    )


def _verdict(found: Report, of: Estimate) -> str:
    if found.in_question:
        return ": open"
    return "" if of.differs_from_zero else ": leave it"


def _over(over: OverASheet, words: Words) -> str:
    x, y = ("not known" if v is None else words.signed(v, "long", "short") for v in (over.x, over.y))
    apart = "not known" if over.diagonals is None else f"{words.say(abs(over.diagonals))} apart"
    return f"X {x}; Y {y}; diagonals {apart}"


def _within(over: OverASheet, words: Words) -> str:
    x, y, diagonals = ("not known" if v is None else f"within {words.say(v)}" for v in (over.x, over.y, over.diagonals))
    return f"X {x}; Y {y}; diagonals {diagonals}"


def _tape(request: argparse.Namespace) -> int:
    units: Units = request.units or "mm"
    u = _lengths("u", [request.u], units)[0] if request.u else None
    check = quick_check(_lengths("tape", request.tape, units), u, units)
    if request.json:
        degree = 180 / math.pi
        said = {
            "out_of_square_deg": check.angle.said(degree),
            "smallest_shown_deg": check.smallest * degree,
            "diagonals_too_long_mm": check.unequal,
        }
        sys.stdout.write(json.dumps(said, indent=2) + "\n")
    else:
        sys.stdout.writelines(f"{line}\n" for line in tape_lines(check, Words(units)))
    return 0


def _lengths(name: str, texts: Sequence[str], units: Units) -> list[float]:
    found, problems = [], []
    for text in texts:
        try:
            found.append(parse_length(text, bare=units))
        except UnitsError as error:
            problems.append(Problem(name, text, str(error)))
    if problems:
        raise Refused(tuple(problems))
    return found
