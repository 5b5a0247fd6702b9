"""stub"""
Change = tuple
from dataclasses import dataclass
@dataclass(frozen=True)
class Sturdy:
    bridge_mm: float
    kerf_mm: float
    amount: float
@dataclass(frozen=True)
class Mended:
    metal: object
    changes: tuple = ()
    moved_mm: float = 0.0
def sturdy(metal, s):
    return Mended(metal)
