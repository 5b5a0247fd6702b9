"""Shorter: layouts on fewer sheets, or that leave more of the last, by strips of the sheets of one kind."""

import math
import os
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.sheets.check import faults
from parts.sheets.layout import Laid, Layout, Problem
from parts.sheets.strip.answered import sheets_of
from parts.sheets.strip.asking import packed
from parts.sheets.strip.carrier import Carrier, carriers_of
from parts.sheets.strip.comb import Comb

_DENSEST = 0.93
"""No more of a sheet is hoped to be filled: what would have to be fuller isn't looked for."""
_THICK = (0.2, 0.3)
"""Of a wall, in lengths of a sheet, by turns."""
_SOLVERS = 2
_LEAST_S = 1.0
_LAST = 0.25
"""Share of the time that is left for the last sheet once there are as few as will be."""
_LONG_AGO = 0.15
"""Of the time, after which it is begun anew with one sheet less."""
_SLACK, _MORE, _OFTEN = 3e-7, 4.0, 8
"""Of the strip's length, what the solver rounds; times as much after so many answers that didn't hold."""


@dataclass(slots=True)
class _Search:
    """The best layout so far, and how much room the solver's rounding is given."""

    problem: Problem
    best: Layout
    slack: float = _SLACK
    seed: int = 1

    @property
    def last_kind(self) -> list[Laid]:
        """The sheets of the kind that the last one is of; none where the last is an off-cut, or something is pinned."""
        last = self.best.sheets[-1]
        if not last.stock.is_new or last.is_begun:
            return []
        return [laid for laid in self.best.sheets if laid.stock is last.stock and not laid.is_begun]

    def with_others(self, sheets: Sequence[Laid]) -> Layout:
        """Return the layout with these in place of the sheets of the last one's kind."""
        mine = set(map(id, self.last_kind))
        others = [laid for laid in self.best.sheets if id(laid) not in mine]
        return Layout((*others, *sheets), self.best.unplaced)


def shorter(problem: Problem, layout: Layout, end: float) -> Iterator[Layout]:
    """Yield better and better layouts, each of them checked, until the time is up.

    Args:
        problem: what is laid out.
        layout: to begin with; what lies in the opening of a part there stays in it.
        end: by `time.monotonic`.
    """
    search, start = _Search(problem, layout), time.monotonic()
    if not search.last_kind:
        return
    last = start + (1 - _LAST) * (end - start)
    while (now := time.monotonic()) < end - _LEAST_S:
        fewer = _fewer(search) if now < last - _LEAST_S else []
        yield from _stage(search, fewer or _same(search), last if fewer else end)
        if not fewer:
            return


def _fewer(search: _Search) -> list[int]:
    """Numbers of walls with which there may be fewer sheets; none where they would be too full."""
    sheets = search.last_kind
    width, height = search.problem.room(sheets[0].stock)
    area = sum(each.outline.area for laid in sheets for each in carriers_of(laid.placements))
    least = max(math.ceil(area / (width * height * _DENSEST)), 1)
    return [count - 1 for count in (len(sheets) - 1, len(sheets) - 2) if count >= least]  # both ends are a sheet each


def _same(search: _Search) -> list[int]:
    """Numbers of walls with which as many sheets may leave more of the last: both ends are one together."""
    count = len(search.last_kind)
    return [count if count > 1 else 0]


def _stage(search: _Search, walls: Sequence[int], end: float) -> Iterator[Layout]:
    """Yield better layouts by combs of so many walls, until the time is up or there is one sheet less for a while."""
    combs = list(_combs(search, walls))
    began, sheets, since, broken = time.monotonic(), len(search.best.sheets), math.inf, 0
    for answer in packed([comb.strip(search.seed + number) for number, comb in enumerate(combs)], end):
        found = sheets_of(combs[answer.strip], answer)
        if found is not None and (layout := search.with_others(found)).cost < search.best.cost:
            if any(faults(search.problem, layout)):
                broken += 1
            else:
                search.best = layout
                yield layout
        now = time.monotonic()
        if len(search.best.sheets) < sheets:
            sheets, since = len(search.best.sheets), now
        if broken >= _OFTEN or now - since > _LONG_AGO * (end - began):
            break
    search.seed += len(combs)
    if broken:
        search.slack *= _MORE


def _combs(search: _Search, walls: Sequence[int]) -> Iterator[Comb]:
    """Yield a comb for each solver."""
    sheets = search.last_kind
    carriers: list[Carrier] = [each for laid in sheets for each in carriers_of(laid.placements)]
    longest = max(sheets[0].stock.width, sheets[0].stock.height)
    for number in range(min(_SOLVERS, os.cpu_count() or 1)):
        count, thick = walls[number % len(walls)], _THICK[number % len(_THICK)]
        slack = search.slack * longest * (1 + thick) * (count + 2)
        yield Comb(search.problem, sheets[0].stock, carriers, count, thick, slack)
