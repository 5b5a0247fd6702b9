"""Facets: a part as thin flat faces in space, folded anywhere between flat and bent; to be looked at, not measured."""

from parts.facets.isometric import isometric
from parts.facets.mesh import MOST_CORNERS, Mesh, meshed
from parts.facets.placing import in_space
from parts.facets.told import VIEWS, described, told

__all__ = ["MOST_CORNERS", "VIEWS", "Mesh", "described", "in_space", "isometric", "meshed", "told"]
