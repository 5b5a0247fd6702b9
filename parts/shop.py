"""The shop's own numbers over the built-in ones, checked: a tree of bed, cautions, materials, processes.

*Built-in* numbers are `parts/data/materials.toml` and `processes.toml`. The *shop's own file* has the same
entries, any few of them: tables merge key by key, row lists replace whole. It is the file that the
environment variable `PLATEWRIGHT_SHOP` names, else `shop.toml` in the user's configuration folder, if there.
"""

import difflib
import os
import tomllib
from collections.abc import Callable, Iterable, Mapping
from functools import cache, lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Annotated, Any, Generic, Literal, NamedTuple, Self, TypeVar

import platformdirs
from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError, model_validator

from parts.errors import DataError
from parts.gauge import Gauge
from parts.units import parse_length

VARIABLE = "PLATEWRIGHT_SHOP"
OWN = "shop's own file"
BUILT_IN = ("materials.toml", "processes.toml")
ANY = "any"
"""The group of a series that holds for every material without a column of its own."""

# Entries that are no numbers, so don't change where a table's numbers are from.
_WORDS = frozenset({"title", "group", "gauge", "cautions", "not_cut_by", "source", "text"})
_NEW_MATERIAL = frozenset({"title", "density_kg_per_m3", "group"})
# Lengths may be given as shop text by the name without its unit: x = "52 in" for x_mm = 1320.8.
_FEEDS = {"feed_in_min": 25.4 / 60, "feed_mm_min": 1 / 60}  # to mm/s
_LENGTHS = ("x", "y", "floor", "thickness", "kerf", "diameter")
_ALIASES = {name: f"{name}_mm" for name in _LENGTHS} | dict.fromkeys(_FEEDS, "feed_mm_s")
_ACCEPTED = {
    "greater_than": "it must be over {gt:g}{unit}",
    "greater_than_equal": "it must be at least {ge:g}{unit}",
    "less_than_equal": "it must be at most {le:g}{unit}",
    "finite_number": "it must be a finite number", "float_type": "it must be a number",
    "string_type": "it must be text in quotes", "string_pattern_mismatch": "it must not be empty",
    "tuple_type": "it must be a list in square brackets", "dict_type": "it must be a table",
    "literal_error": "accepted: {expected}", "too_short": "it must have at least {min_length} row",
    "value_error": "{error}",
}  # fmt: skip
_UNITS = {"_mm": " mm", "_mm_s": " mm/s", "_s": " s", "_m3": " kg/m3"}
_LONGEST_ECHO = 60


def _number(value: object) -> object:
    """Pass a number on; text and true/false are none, though pydantic would take some of them."""
    if isinstance(value, (bool, str)):
        raise ValueError("it must be a number")
    return value


def _length(value: object) -> object:
    """Read shop text as millimetres; a plain number is millimetres already."""
    return parse_length(value) if isinstance(value, str) else _number(value)


def _near(word: str, known: tuple[str, ...]) -> str:
    """Say what `word` may have been meant to be, or all that it could be."""
    near = difflib.get_close_matches(word, known, n=1)
    return f"did you mean {near[0]}" if near else f"accepted: {', '.join(known)}"


Number = Annotated[float, BeforeValidator(_number), Field(allow_inf_nan=False)]
Length = Annotated[float, BeforeValidator(_length), Field(allow_inf_nan=False)]
# 300 mm is where ISO 9013:2017 ends; the other bounds catch a slipped unit or point, not a good machine.
Thickness = Annotated[Length, Field(gt=0, le=300)]
Travel = Annotated[Length, Field(ge=100, le=50_000)]
Text = Annotated[str, Field(pattern=r"\S")]


class Strict(BaseModel):
    """A table in which every key is known; a slip of the pen is answered with the near match."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    @model_validator(mode="before")
    @classmethod
    def _known_keys(cls, table: object) -> object:
        """Refuse a key that is none of this table's."""
        known = tuple(field.alias or name for name, field in cls.model_fields.items())
        if not isinstance(table, dict):
            raise ValueError(f"it must be a table with {', '.join(known)}")
        for key in table:
            if _ALIASES.get(key) in table:
                raise ValueError(f"has both {key} and {_ALIASES[key]}: give one of them")
            if key not in known:
                raise ValueError(f"has no entry {key}: {_near(key, known)}")
        return table


class Row(Strict):
    """One row of a series: a value in the series' own unit at a thickness, and where it is from."""

    thickness_mm: Thickness
    value: float
    source: Text = OWN


class KerfRow(Row):
    """Width of the slot the process leaves, mm."""

    value: Annotated[Length, Field(alias="kerf_mm", gt=0, le=20)]


class DiameterRow(Row):
    """Diameter of the crater that a pierce blows, mm."""

    value: Annotated[Length, Field(alias="diameter_mm", gt=0, le=100)]


class FeedRow(Row):
    """Speed along the cut, mm/s."""

    value: Annotated[Number, Field(alias="feed_mm_s", gt=0, le=2000)]


class TimeRow(Row):
    """Time from arc, flame or jet on to moving, s."""

    value: Annotated[Number, Field(alias="time_s", ge=0, le=1200)]


R = TypeVar("R", bound=Row)


class Series(Strict, Generic[R]):
    """Rows by rising thickness; straight lines between them, nothing beyond them."""

    rows: Annotated[tuple[R, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _rising(self) -> Self:
        """Refuse rows out of order: which of two holds would be a guess."""
        for thinner, thicker in pairwise(row.thickness_mm for row in self.rows):
            if thicker <= thinner:
                raise ValueError(f"has {thicker:g} mm after {thinner:g} mm: rows must go from thin to thick")
        return self


class Sourced(Strict):
    """A table whose numbers share one source."""

    source: Text = OWN


class Limit(Sourced):
    """A thickness at which a process starts or ends, mm."""

    thickness_mm: Thickness


class Rule(Sourced):
    """A least size: the largest of `ratio` x thickness, `floor_mm` and `kerfs` x kerf."""

    ratio: Annotated[Number, Field(ge=0, le=10)]
    floor_mm: Annotated[Length, Field(ge=0, le=100)]
    kerfs: Annotated[Number, Field(ge=0, le=20)]

    def least_mm(self, thickness_mm: float, kerf_mm: float) -> float:
        """Return the least size at this thickness and kerf, mm."""
        return max(self.ratio * thickness_mm, self.floor_mm, self.kerfs * kerf_mm)


class ProcessData(Strict):
    """One process; each series is kept by group of materials."""

    title: Text
    thinnest: Limit
    thickest: Limit
    smallest_hole: Rule
    narrowest_bridge: Rule
    kerf: dict[str, Series[KerfRow]]
    pierce_diameter: dict[str, Series[DiameterRow]]
    feed: dict[str, Series[FeedRow]]
    pierce_time: dict[str, Series[TimeRow]]

    @model_validator(mode="after")
    def _range(self) -> Self:
        """Refuse a process that starts thicker than it ends."""
        low, high = self.thinnest.thickness_mm, self.thickest.thickness_mm
        if low >= high:
            raise ValueError(f"is thinnest at {low:g} mm and thickest at {high:g} mm: thinnest must be less")
        return self


class MaterialData(Sourced):
    """One material; `source` is its density's."""

    title: Text
    density_kg_per_m3: Annotated[Number, Field(ge=500, le=25_000)]
    group: Text
    gauge: Literal[Gauge, "none"] = "none"
    cautions: tuple[Text, ...] = ()
    # false, as no sentence, leaves nothing against it
    not_cut_by: dict[str, Annotated[str, BeforeValidator(lambda why: "" if why is False else why)]] = {}


class BedData(Sourced):
    """How far the machine travels, mm."""

    x_mm: Travel
    y_mm: Travel


class CautionData(Sourced):
    """One sentence on what can hurt; `source` says who warns of it."""

    text: Text


class ShopData(Strict):
    """All of it: what `load` returns."""

    bed: BedData
    cautions: dict[str, CautionData]
    materials: dict[str, MaterialData]
    processes: dict[str, ProcessData]

    @model_validator(mode="before")
    @classmethod
    def _new_ones(cls, tree: dict[str, object]) -> dict[str, object]:
        """Refuse a process that isn't there, and half a material: a slip of the pen, most likely."""
        stock = _table(tree.get("materials"))
        whole = (slug for slug, of in stock.items() if _table(of).keys() >= _NEW_MATERIAL)
        known = tuple(dict.fromkeys((*builtin()["materials"], *whole)))
        _all_known("processes", _table(tree.get("processes")), tuple(builtin()["processes"]))
        _all_known("materials", stock, known, " (a new one needs title, density_kg_per_m3 and group)")
        return tree

    @model_validator(mode="after")
    def _names(self) -> Self:
        """Refuse names that lead nowhere: a process, or a group of materials, that isn't there."""
        groups = (ANY, *dict.fromkeys(material.group for material in self.materials.values()))
        columns = tuple(dict.fromkeys(group for process in self.processes.values() for group in process.feed))
        for slug, material in self.materials.items():
            _all_known(f"materials.{slug}.group", [material.group], columns)
            _all_known(f"materials.{slug}.not_cut_by", material.not_cut_by, tuple(self.processes))
            _all_known(f"materials.{slug}.cautions", material.cautions, tuple(self.cautions))
        for slug, process in self.processes.items():
            for quantity in ("kerf", "pierce_diameter", "feed", "pierce_time"):
                _all_known(f"processes.{slug}.{quantity}", getattr(process, quantity), groups)
        return self


def _table(value: object) -> dict[str, Any]:
    return value if isinstance(value, dict) else {}


def _all_known(where: str, names: Iterable[str], known: tuple[str, ...], hint: str = "") -> None:
    for name in names:
        if name not in known:
            raise ValueError(f"has no entry {where}.{name}: {_near(name, known)}{hint}")


class Edition(NamedTuple):
    """Which state of the shop's own file numbers are from: the key of every cache over them."""

    path: str
    modified_ns: int
    size: int


def edition() -> Edition:
    """Return the present state of the shop's own file; costs one look at the file system.

    Raises:
        DataError: the file that `PLATEWRIGHT_SHOP` names isn't there.
    """
    named = os.environ.get(VARIABLE, "")
    path = named or _usual_path(os.environ.get("HOME"), os.environ.get("XDG_CONFIG_HOME"))
    try:
        state = os.stat(path)  # noqa: PTH116 - half the cost of Path.stat, and paid on every request
    except FileNotFoundError:
        if not named:
            return Edition("", 0, 0)
        raise DataError(f"{VARIABLE} names {named}, which isn't there; name a file or unset it.") from None
    except (OSError, ValueError) as error:
        raise DataError(f"{path} can't be looked at ({error}); put a readable TOML file there.") from None
    return Edition(path, state.st_mtime_ns, state.st_size)


@lru_cache(maxsize=4)
def _usual_path(home: str | None, config_home: str | None) -> str:
    """Return where the file is kept unless named; the arguments, on which it depends, are the cache's key."""
    return str(platformdirs.user_config_path("platewright") / "shop.toml")


@lru_cache(maxsize=4)
def load(at: Edition) -> ShopData:
    """Return every number, the shop's own over the built-in.

    Raises:
        DataError: the shop's own file can't be read, or holds something unusable.
    """
    own = _read(Path(at.path)) if at.path else {}
    try:
        return ShopData.model_validate(_merged(builtin(), _with_units(_signed(own))))
    except ValidationError as error:
        raise DataError(f"{at.path or BUILT_IN}: {_sentence(error, own)}.") from None
    except (OverflowError, RecursionError):
        raise DataError(f"{at.path} holds a number too long or tables too deep to be read.") from None


@cache
def builtin() -> dict[str, Any]:
    """Return the built-in tree as written, not to be changed."""
    files = [_read(Path(__file__).parent / "data" / name) for name in BUILT_IN]
    return {name: entry for file in files for name, entry in file.items()}


def _read(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, ValueError, RecursionError) as error:
        raise DataError(f"{path} can't be read as TOML: {str(error) or 'nested too deep'}.") from error


def _merged(base: Mapping[str, Any], own: Mapping[str, Any]) -> dict[str, Any]:
    """Return `base` with `own` over it, tables key by key and everything else whole; sign what changed."""
    tree = dict(base)
    for key, value in own.items():
        below = base.get(key)
        both = isinstance(below, dict) and isinstance(value, dict)
        tree[key] = _merged(_table(below), value) if both else value
    if "source" in base:
        tree["source"] = _mixed_source(base, own)
    return tree


def _mixed_source(base: Mapping[str, Any], own: Mapping[str, Any]) -> object:
    """Return the source of a table of which some numbers are the shop's own."""
    numbers = {key for key, value in base.items() if key not in _WORDS and not isinstance(value, dict)}
    source = own.get("source", OWN if numbers & own.keys() else base["source"])
    mixed = numbers & own.keys() and numbers - own.keys()
    return f"{source}; the rest {base['source']}" if mixed else source


def _through(value: object, turn: Callable[[dict[str, Any]], dict[str, Any]]) -> object:
    """Return `value` with each table in it turned; lists are walked."""
    if isinstance(value, list):
        return [_through(item, turn) for item in value]
    return turn(value) if isinstance(value, dict) else value


def _signed(table: dict[str, Any]) -> dict[str, Any]:
    """Return the shop's own table with its own name before each source it gives."""
    own = {"source": f"{OWN}: {table['source']}"} if isinstance(table.get("source"), str) else {}
    return {key: _through(value, _signed) for key, value in table.items()} | own


def _with_units(table: dict[str, Any]) -> dict[str, Any]:
    """Return the table with lengths given as shop text, and feeds in other units, under the built-in names.

    An entry given both ways keeps both names, so that the second is refused as an unknown one.
    """
    out: dict[str, Any] = {}
    for key, value in table.items():
        name = _ALIASES.get(key, key)
        if name in out or (name != key and name in table) or isinstance(value, dict):
            name = key
        number = isinstance(value, int | float) and not isinstance(value, bool)
        factor = _FEEDS[key] if name != key and key in _FEEDS and number else None
        out[name] = _through(value, _with_units) if factor is None else value * factor
    return out


def _sentence(error: ValidationError, own: Mapping[str, Any]) -> str:
    """Word the first thing that is wrong: entry, value, what is accepted."""
    first = error.errors()[0]
    entry, value = _as_written(first["loc"], own)
    if first["type"] == "missing":
        return f"{entry} is missing; it must be given"
    last = str(first["loc"][-1]) if first["loc"] else ""
    unit = next((unit for end, unit in _UNITS.items() if last.endswith(end)), "")
    accepted = _ACCEPTED.get(first["type"], first["msg"]).format(unit=unit, **first.get("ctx", {}))
    if isinstance(first["input"], dict):
        return f"{entry or 'the file'} {accepted}".rstrip(".")
    echo = repr(first["input"] if value is None else value)
    return f"{entry} is {echo[:_LONGEST_ECHO]}{'...' * (len(echo) > _LONGEST_ECHO)}; {accepted}".rstrip(".")


def _as_written(loc: tuple[int | str, ...], own: object) -> tuple[str, object]:
    """Return an entry's name and value as the shop's file has them; None for a value that isn't in it."""
    words: list[str] = []
    for key in loc:
        if isinstance(key, int):
            own = own[key] if isinstance(own, list) and key < len(own) else None
            words.append(f"row {key + 1}" if words[-1] == "rows" else f"number {key + 1}")
            continue
        table = own if isinstance(own, dict) else {}
        name = next((k for k in table if k == key or _ALIASES.get(k) == key), key)
        own = table.get(name)
        words.append(name)
    return ".".join(words).replace(".rows.row ", " row ").replace(".number ", " number "), own
