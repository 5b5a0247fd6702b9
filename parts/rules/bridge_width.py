"""Bridge width: stub."""

from collections.abc import Iterator
from parts.finding import Finding
from parts.job import Job
from parts.profile import Profile


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    yield from ()
