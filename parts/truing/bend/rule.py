"""The rules a test bend is held against: the inside radius that a V opening leaves, and K without a test."""

from dataclasses import replace

from parts import forming


def radius_by_v(material: str, v_opening: float) -> float:
    """Return the inside radius that the rule for a V opening gives in a material, mm.

    Raises:
        DataError: the shop's own file is unusable.
    """
    return forming.brake(material).radius_per_v * v_opening


def k_by_rule(material: str, radius: float, thickness: float) -> tuple[float, str]:
    """Return K without a test, and whose word that is.

    Raises:
        DataError: the shop's own file is unusable.
    """
    line = replace(forming.brake(material), tests=()).neutral(thickness, radius)
    return line.k, line.name
