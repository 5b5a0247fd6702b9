"""Closed forms of the chance that bolts enter, for round holes whose errors are normal and independent.

`spread` is the standard deviation along each axis of how far a pair of holes is off, both parts' together; `bias` how
far off they are besides; `room` the clearance, mean and standard deviation: how far off they may be.

    held, no bias     how far off has a Rayleigh distribution; with a normal room its integral is in closed form
    held, bias        a Rice distribution, at a room without spread: Poisson's weights of chi-squared ones
    two holes, free   the parts are laid so that only the two distances count: their difference is normal, and both
                      bolts enter where it is no more than both rooms together

Parts that lie held have every hole for itself, so that the chance is the product.
"""

import math

_MOST_TERMS = 2000
_SMALL = 1e-17


def below(z: float) -> float:
    """Return the standard normal distribution function."""
    return math.erfc(-z / math.sqrt(2)) / 2


def held_chance(spread: float, bias: float, room: float, room_spread: float) -> float:
    """Return the chance that one bolt enters of parts that lie where they are drawn.

    Raises:
        ValueError: there is a bias and the room has a spread, which has no closed form here.
    """
    if bias and room_spread and spread:
        raise ValueError("no closed form with a bias and a spread of the room")
    if not spread:
        return below((room - bias) / room_spread) if room_spread else float(room >= bias)
    if not bias:
        return _rayleigh(spread, room, room_spread)
    return rice(bias / spread, room / spread) if room > 0 else 0.0


def _rayleigh(spread: float, room: float, room_spread: float) -> float:
    if not room_spread:
        return -math.expm1(-((room / spread) ** 2) / 2) if room > 0 else 0.0
    whole = math.hypot(spread, room_spread)
    lost = spread / whole * math.exp(-((room / whole) ** 2) / 2) * below(room * spread / (room_spread * whole))
    return below(room / room_spread) - lost


def rice(bias: float, room: float) -> float:
    """Return the Rice distribution function at `room`, in units of the spread: 1 less Marcum's Q of order 1."""
    a, x = bias * bias / 2, room * room / 2
    weight, term = math.exp(-a), math.exp(-x)
    tail, chance = term, weight * -math.expm1(-x)
    for k in range(1, _MOST_TERMS):
        weight *= a / k
        term *= x / k
        tail += term
        step = weight * max(1.0 - tail, 0.0)
        chance += step
        if k > a and weight < _SMALL:
            break
    return min(chance, 1.0)


def two_chance(spread: float, bias: float, room: float, room_spread: float) -> float:
    """Return the chance that two bolts enter of parts that may be shifted and turned.

    Args:
        spread: standard deviation of the difference of the two distances.
        bias: that difference besides.
        room: the clearances of both pairs together.
        room_spread: the standard deviation of that.
    """
    whole = math.hypot(spread, room_spread)
    if not whole:
        return float(room >= abs(bias))
    return max(below((room - bias) / whole) + below((room + bias) / whole) - 1.0, 0.0)
