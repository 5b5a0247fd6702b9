"""Apart: the rules over a drawing that may hold anything, in a process of its own where it holds much.

A template's drawing is of known size; someone's own may keep a rule busy for minutes, or break it in ten thousand
places. So rules over a rich one run in a process that is given so much time and memory and no more; a worker is such
a process already. A rule that doesn't come to its end there is named in a finding that stops, since nobody must take
silence for a pass; and of one rule no more findings are told than a person reads.
"""

import contextlib
import io
import pickle
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from time import thread_time
from types import ModuleType

import numpy as np

from parts.cutting import Job
from parts.errors import GeometryError
from parts.finding import Finding
from parts.geometry.search import crowded
from parts.profile import Profile
from parts.rules import RULES, findings
from parts.workers import TimeUp, clock, is_worker, limit_memory, surroundings

NO_NUMBERS = (ArithmeticError, GeometryError)
"""What lines and arcs end in that are too small, too large or too close to one another to be computed with."""
LARGEST_MB = 400
"""Of memory for the rules in a process of their own."""
MOST_FINDINGS = 40
"""Findings of one rule that are told one by one; those beyond are summed up in one."""
MOST_SEGMENTS = 4000
MOST_NEAR = 10_000
"""Lines and arcs, and pairs of them that lie near each other, up to which the rules run where they are asked: they
then take a few tenths of a second at most, which starting a process takes as well."""
_PATIENCE = 6  # times as long as its own work a process may take on a busy machine, and a start-up of
_START_S = 15.0
_LEAST_S = 0.05  # for a rule, when those before it have used up the time


def found_within(profile: Profile, job: Job, seconds: float) -> tuple[Finding, ...]:
    """Return what the rules find, in their order; `seconds` is what they may take of a processor, where it is much."""
    every = _every(profile, job, seconds)
    return tuple(finding for rule in RULES for finding in every.get(rule.RULE, (_unchecked(rule, profile),)))


def _every(profile: Profile, job: Job, seconds: float) -> dict[str, tuple[Finding, ...]]:
    """What each rule that came to its end has found."""
    if is_worker():
        return dict(_in_time(profile, job, seconds))
    return _here(profile, job) if _is_small(profile, job) else _in_a_process(profile, job, seconds)


def _is_small(profile: Profile, job: Job) -> bool:
    """Whether no rule can take long; all that rules are about lies within a few thicknesses."""
    boxes = [segment.box for loop in profile.boundary for segment in loop.segments]
    reach = max(2 * job.cut.thickness_mm, job.cut.narrowest_bridge_mm)
    return len(boxes) <= MOST_SEGMENTS and not crowded(np.array(boxes), reach, MOST_NEAR)


def _here(profile: Profile, job: Job) -> dict[str, tuple[Finding, ...]]:
    every = {}
    for rule in RULES:
        with contextlib.suppress(*NO_NUMBERS):
            every[rule.RULE] = tuple(_summed_up(findings(profile, job, (rule,))))
    return every


def _summed_up(found: tuple[Finding, ...]) -> Iterator[Finding]:
    """The first findings of one rule, the gravest, and one that counts the rest."""
    yield from found[:MOST_FINDINGS]
    if (rest := len(found) - MOST_FINDINGS) > 0:
        message = f"There {'is 1 more place' if rest == 1 else f'are {rest:,} more places'} like these."
        remedy = "Mend what is alike together, and check again."
        yield replace(
            found[MOST_FINDINGS], measured=None, limit=None, message=message, remedy=remedy, changes=(), also=()
        )


def _unchecked(rule: ModuleType, profile: Profile) -> Finding:
    x0, y0, x1, y1 = profile.box
    return Finding(
        rule.RULE, "stop", ((x0 + x1) / 2, (y0 + y1) / 2), None, None,
        f"Not checked for {rule.RULE.replace('-', ' ')}: so much lies so close together in this drawing that it "
        "would take too long, or can't be told apart.",
        "Check a piece of it by itself; or look for this with your own eyes, and take the file even so.",
        is_unchecked=True,
    )  # fmt: skip


def _in_a_process(profile: Profile, job: Job, seconds: float) -> dict[str, tuple[Finding, ...]]:
    """What each rule that came to its end has found."""
    try:
        done = subprocess.run(  # noqa: S603 - this very module
            [sys.executable, "-c", f"from parts.checking.limited import answer; answer({seconds!r})"],
            input=pickle.dumps((profile, job)), capture_output=True,
            timeout=_START_S + _PATIENCE * seconds, env=surroundings(), check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired as late:
        return dict(_batches(late.stdout or b""))
    if done.returncode == 1:
        raise RuntimeError(done.stderr.decode("utf-8", "replace"))
    return dict(_batches(done.stdout))


def _batches(answered: bytes) -> Iterator[tuple[str, tuple[Finding, ...]]]:
    """What a process has answered, as far as it is whole."""
    stream = io.BytesIO(answered)
    with contextlib.suppress(EOFError, pickle.UnpicklingError):
        while True:
            yield pickle.load(stream)  # noqa: S301 - of the process started above


def _in_time(profile: Profile, job: Job, seconds: float) -> Iterator[tuple[str, tuple[Finding, ...]]]:
    """What each rule finds that comes to its end in half of the time that those before it left, and in the memory."""
    until = thread_time() + seconds
    for rule in RULES:
        with contextlib.suppress(TimeUp, MemoryError, *NO_NUMBERS):
            with clock(max((until - thread_time()) / 2, _LEAST_S)):
                found = tuple(_summed_up(findings(profile, job, (rule,))))
            yield rule.RULE, found


def answer(seconds: float) -> None:
    """Take a profile and a job from standard input; give what each rule finds to standard output, a batch a rule."""
    profile, job = pickle.load(sys.stdin.buffer)  # noqa: S301 - of the process that started this one
    limit_memory(LARGEST_MB)
    for batch in _in_time(profile, job, seconds):
        sys.stdout.buffer.write(pickle.dumps(batch))
        sys.stdout.buffer.flush()
