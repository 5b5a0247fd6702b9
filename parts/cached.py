"""A property worked out once an object, without a lock between objects: `cached_property` as Python 3.12 has it.

Python 3.11's takes one lock for all objects of a class, so that whoever draws one sign waits for every other sign.
"""

import sys
from functools import cached_property
from typing import TYPE_CHECKING

__all__ = ["cached_property"]

if not TYPE_CHECKING and sys.version_info < (3, 12):
    from functools import cached_property as _locked

    class cached_property(_locked):
        """Two threads may both work out the value of one object: the last one's stays, and both are the same."""

        def __get__(self, instance, owner=None):  # noqa: ANN001, ANN204 - typed as the one of functools
            if instance is None:
                return self
            kept = instance.__dict__
            if self.attrname not in kept:
                kept[self.attrname] = self.func(instance)
            return kept[self.attrname]
