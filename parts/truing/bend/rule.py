"""The rules of thumb a test bend is held against: the inside radius that air bending leaves over a V opening."""

from parts.forming import brake


def radius_by_v(material: str, v_opening: float) -> float:
    """Return the inside radius that the rule for a V opening gives in a material, mm.

    Raises:
        DataError: the shop's own file is unusable.
    """
    return brake().inside_radius_per_v * v_opening
