"""A table of limits, each tried just under, at and just over.

A case is (other values, parameter, limit in mm, how the limit is worded).
"""

import pytest

import parts
from parts.errors import Problem
from tests.property.flattened import assert_can_be_cut

STEP = 0.001  # mm: the least step that a message shows


def name_of(case):
    return f"{case[1]} {case[2]:g}"


def refusal(slug, **values):
    """The problems of a request that must be refused."""
    with pytest.raises(parts.Refused) as caught:
        parts.draw(slug, **values)
    return caught.value.problems


def must_be_less(slug, case):
    others, parameter, limit, words = case
    assert_can_be_cut(parts.draw(slug, **others | {parameter: limit - STEP}))
    for value in (limit, limit + STEP):
        _refused(slug, others, parameter, value, f"must be less than {words}.")


def may_be_as_much(slug, case):
    others, parameter, limit, words = case
    for value in (limit - STEP, limit):
        assert_can_be_cut(parts.draw(slug, **others | {parameter: value}))
    _refused(slug, others, parameter, limit + STEP, f"must be at most {words}.")


def must_be_more(slug, case):
    others, parameter, limit, words = case
    assert_can_be_cut(parts.draw(slug, **others | {parameter: limit + STEP}))
    for value in (limit - STEP, limit):
        _refused(slug, others, parameter, value, f"must be more than {words}.")


def _refused(slug, others, parameter, value, message):
    problem = Problem(parameter, said(value), message)
    assert refusal(slug, **others | {parameter: value}) == (problem,)


def said(value):
    return f"{value:.3f}".rstrip("0").rstrip(".") + " mm"
