"""The line of a job that a part was opened from: carried in the part's address, so that it can go back there.

job_line=3-2    the second line of job 3
"""

import re
from dataclasses import dataclass

JOB_LINE = "job_line"
"""The name in the address. It says nothing of the part, so no file's address has it."""
_SAID = re.compile(r"([0-9]{1,9})-([0-9]{1,9})")


@dataclass(frozen=True, slots=True)
class JobLine:
    """A line of a job, by their numbers."""

    job: int
    line: int

    @classmethod
    def read(cls, text: str) -> "JobLine | None":
        """Return what an address says, None where it says none."""
        said = _SAID.fullmatch(text)
        return cls(int(said[1]), int(said[2])) if said else None

    def __str__(self) -> str:
        return f"{self.job}-{self.line}"
