"""The outcome: two parts, how they lie on one another, and the answer, as a record for a person or a program."""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

from parts.boltup import Accuracy, Answer, Hole, Joint
from parts.mating.values import Asked
from parts.record import VERSION, Record


@dataclass(frozen=True)
class Mate:
    """One of the two: its title, its holes, and its record; None of a bolt pattern.

    `address` draws it, where a template does.
    """

    title: str
    holes: tuple[Hole, ...]
    record: Record | None = None
    address: str = ""


@dataclass(frozen=True)
class BoltUp:
    """Whether two parts bolt up; `accuracies` are those of A and B for the pairs, in their order."""

    a: Mate
    b: Mate
    asked: Asked
    joint: Joint
    accuracies: tuple[Accuracy, Accuracy]
    answer: Answer
    is_one_table: bool = False

    @property
    def is_whole(self) -> bool:
        """Whether every hole of the part that has fewer lies over one of the other."""
        return len(self.joint.pairs) == min(len(self.a.holes), len(self.b.holes))

    @property
    def is_safe(self) -> bool:
        """Whether every hole has its partner, and the chance is the one that is wanted, or better."""
        return self.is_whole and self.answer.chance >= self.answer.wanted

    def content(self) -> Mapping[str, Any]:
        """Return all of it as JSON has it: lengths in mm, chances as shares of 1."""
        told, motion = self.answer, self.joint.motion
        return {
            "a": self._mate(self.a),
            "b": self._mate(self.b),
            "lie": "drawn" if self.asked.is_held else "free",
            "fixed": self.asked.is_fixed,
            "one_table": self.is_one_table,
            "chance": told.chance,
            "low95": told.low,
            "high95": told.high,
            "wanted": told.wanted,
            "safe": self.is_safe,
            "wider_mm": told.grow_mm,
            "method": told.method,
            "trials": told.trials,
            "seed": told.seed,
            "b_on_a": {
                "mirrored": motion.mirrored, "cos": motion.cos, "sin": motion.sin, "shift_mm": list(motion.shift),
            },
            "bolts": [self._bolt(k) for k in range(len(self.joint.pairs))],
            "worst": [k + 1 for k in told.worst],
            "without_partner": {"a": list(self.joint.alone_a), "b": list(self.joint.alone_b)},
            "sources": {"a": list(self.accuracies[0].sources), "b": list(self.accuracies[1].sources)},
            "platewright_version": VERSION,
        }  # fmt: skip

    def to_json(self) -> str:
        """Return it as JSON text."""
        return f"{json.dumps(self.content(), indent=1, ensure_ascii=False, allow_nan=False)}\n"

    def _mate(self, mate: Mate) -> Mapping[str, Any]:
        return {"title": mate.title, "address": mate.address}

    def _bolt(self, k: int) -> Mapping[str, Any]:
        pair = self.joint.pairs[k]
        spread = [{"position_mm": each.position[k], "size_mm": each.size[k]} for each in self.accuracies]
        return {
            "number": k + 1,
            "bolt_mm": pair.bolt,
            "at": list(pair.a.at),
            "a": {**asdict(pair.a), **spread[0]},
            "b": {**asdict(pair.b), **spread[1]},
            "clearance_mm": pair.clearance,
            "chance_without": self.answer.without[k],
        }
