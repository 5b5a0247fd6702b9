"""Values that don't go together: a test that each is refused, naming the parameter at fault."""

from collections.abc import Callable
from typing import Any

import pytest

import parts


def names(slug: str, *table: tuple[dict[str, Any], str], alone: bool = False) -> Callable[[dict[str, Any], str], None]:
    """Return a test that each row's values are refused, naming that row's parameter; `alone`: and no other."""

    @pytest.mark.parametrize(("values", "named"), table, ids=lambda value: value if isinstance(value, str) else "")
    def test(values: dict[str, Any], named: str) -> None:
        with pytest.raises(parts.Refused) as caught:
            parts.draw(slug, **values)
        found = [problem.parameter for problem in caught.value.problems]
        assert found == [named] if alone else named in found

    return test
