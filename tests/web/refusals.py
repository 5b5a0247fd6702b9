"""The one shape of a refusal, asserted in one place."""


def assert_refusal(answer, status, parameter):
    """The answer is a refusal in the contract's shape that names the parameter."""
    assert answer.status_code == status
    assert answer.mimetype == "application/json"
    errors = answer.get_json()["errors"]
    assert parameter in [error["parameter"] for error in errors]
    assert all(set(error) == {"parameter", "value", "message"} and error["message"] for error in errors)
    return errors
