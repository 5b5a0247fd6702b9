"""Parameters that take over what a move leaves as it is are at fault as if they were made anew, in every template.

A deep run moves 300 sets of each template instead of a few.
"""

import pytest
from hypothesis import Phase, given
from hypothesis import strategies as st

import parts
from parts.spec.advice import trying
from parts.spec.parameters import Parameters
from parts.spec.tries import problems
from tests.depth import some_of, tried
from tests.strategies import quick, values_for

TEMPLATES = list(parts.templates().values())


@pytest.mark.parametrize("template", some_of(12, quick(TEMPLATES), 1), ids=lambda t: t.slug)
@tried(300, everyday=2, phases=[Phase.explicit, Phase.generate])
@given(data=st.data())
def test_what_is_tried_is_at_fault_as_if_made_anew(template, data):
    plain = template.parameters.read_singly({})
    base, other = (plain.changed(**data.draw(values_for(template))) for _ in range(2))
    own = [name for name in base.specs() if name not in Parameters.model_fields]
    with trying(worded=False):
        base.tried().faults()
        for name in own:
            moved = {name: getattr(other, name)}
            assert base.tried(**moved).faults() == {each.parameter for each in problems(base.changed(**moved))}, moved
