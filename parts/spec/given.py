"""What is given for parameters, before it is checked together: how it is read, and what it leaves open."""

from collections.abc import Mapping
from typing import Any, cast

from parts.cutting import materials
from parts.errors import UnitsError
from parts.spec.parameter import BY_DIAMETER, ReadingContext, Spec
from parts.units import Units


def bolts_left_open(specs: Mapping[str, Spec], values: Mapping[str, Any]) -> dict[str, str]:
    """Return the bolts of holes that are given by their diameters and no bolt beside: they are by diameter."""
    bolts = (spec for spec in specs.values() if spec.is_bolt)
    return {spec.name: BY_DIAMETER for spec in bolts if spec.diameter in values and spec.name not in values}


def reading_of(specs: Mapping[str, Spec], values: Mapping[str, Any]) -> ReadingContext:
    """Return what the reading of lengths depends on, as far as the values say it rightly."""
    material = materials().get(_chosen(specs["material"], values))
    units = cast(Units, _chosen(specs["units"], values))
    return ReadingContext(units, material.gauge if material else None)


def _chosen(spec: Spec, values: Mapping[str, Any]) -> str:
    """The word chosen in any spelling, or the default where there is none or it will be refused."""
    try:
        return str(spec.read(values.get(spec.name, spec.default), ReadingContext()))
    except UnitsError:
        return str(spec.default)
