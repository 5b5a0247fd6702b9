"""Outlines of countries and states, by name, from maps of the earth laid flat."""

from parts.artwork.places.find import is_point, known, named, nearest, place_names
from parts.artwork.places.projection import PROJECTIONS, Projection
from parts.artwork.places.region import region

__all__ = ["PROJECTIONS", "Projection", "is_point", "known", "named", "nearest", "place_names", "region"]
