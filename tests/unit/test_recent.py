"""What was worked out lately is held by what it weighs, the last always."""

from parts.artwork.recent import Recent


def held(recent, keys):
    return [key for key in keys if recent.get(key) is not None]


def test_what_was_not_asked_for_longest_is_forgotten():
    recent = Recent(2)
    recent.keep("a", "first")
    recent.keep("b", "second")
    assert recent.get("a") == "first"
    recent.keep("c", "third")
    assert held(recent, "abc") == ["a", "c"]


def test_the_weight_of_all_is_bounded_and_the_last_is_held():
    recent = Recent(10, len)
    recent.keep("a", "1234")
    recent.keep("b", "123456")
    assert held(recent, "ab") == ["a", "b"]
    recent.keep("a", "12345")  # its old weight goes
    assert held(recent, "ab") == ["a"]
    recent.keep("c", "1" * 40)
    assert held(recent, "abc") == ["c"]
    recent.keep("d", "12345")
    assert held(recent, "cd") == ["d"]
    recent.clear()
    recent.keep("e", "1234567890")
    assert held(recent, "de") == ["e"]
