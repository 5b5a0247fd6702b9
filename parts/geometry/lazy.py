"""A property that is reckoned when first asked for, and kept: `functools.cached_property` without its lock.

Before Python 3.12 that takes a lock at every first look, half of what a length costs. Two threads that ask for one
at the same time reckon it twice, and come to the same.
"""

from collections.abc import Callable
from typing import Any, Generic, TypeVar, overload

T = TypeVar("T")


class lazy(Generic[T]):
    """Decorator of a method without arguments, of a class whose instances have a `__dict__`."""

    def __init__(self, reckon: Callable[[Any], T]) -> None:
        self._reckon, self._name = reckon, ""
        self.__doc__ = reckon.__doc__

    def __set_name__(self, owner: type, name: str) -> None:
        self._name = name

    @overload
    def __get__(self, instance: None, owner: type) -> "lazy[T]": ...
    @overload
    def __get__(self, instance: object, owner: type) -> T: ...
    def __get__(self, instance: object | None, owner: type) -> "lazy[T] | T":
        """Return the value, which stands in the property's place on the instance from then on."""
        if instance is None:
            return self
        value = instance.__dict__[self._name] = self._reckon(instance)
        return value
