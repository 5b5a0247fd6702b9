"""The current that a cut takes from a power source: that of the chart's rows at its thickness."""

from bisect import bisect_left, bisect_right

from parts import shop
from parts.cutting.process import Cut
from parts.cutting.stock import materials
from parts.shop import ANY
from parts.tolerance import LIMIT_SLACK_MM


def current_of(cut: Cut) -> float | None:
    """Return the current in A that the feed is for; between two rows the higher of theirs, None where none is said.

    A feed between two rows is reckoned, but a current is one that a torch is set to: the higher is the safer one for
    what the power source has to stand.

    Raises:
        DataError: the shop's own file is unusable.
    """
    series = shop.load(shop.edition()).processes[cut.process].feed
    group = materials()[cut.material].group
    rows = series.get(group, series.get(ANY))
    if rows is None:
        return None
    at = [row.thickness_mm for row in rows.rows]
    low = max(bisect_right(at, cut.thickness_mm + LIMIT_SLACK_MM) - 1, 0)
    high = min(bisect_left(at, cut.thickness_mm - LIMIT_SLACK_MM), len(at) - 1)
    return max((row.current_a for row in (rows.rows[low], rows.rows[high]) if row.current_a), default=None)
