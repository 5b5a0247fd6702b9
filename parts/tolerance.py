"""Every tolerance of the project, named, each with its reason."""

LIMIT_SLACK_MM = 1e-9
"""A measured value this close to its limit passes: rounding in sums of millimetres up to 10 m."""

SAME_POINT_MM = 1e-9
"""Points closer than this are one point: a thousand times the rounding of a coordinate of 10 m."""

PARALLEL_RAD = 1e-9
"""Directions closer than this are parallel: over 10 m they part by 10 nm."""

FLATTEN_MM = 0.01
"""Chord error of flattened views to look at, never to decide: a tenth of a fine process's repeatability."""

TANGENT_MM = 1e-5
"""Two segments tangent at a common end meet again no nearer than this: rounding moves where a line
touches a circle of 1 m by the root of 1e-16, which is 1e-5 mm."""

TOUCH_MM = 0.01
"""Loops that lie on each other for less than this only touch: a line and a circle of 10 m that touch are
within SAME_POINT_MM of each other for 9e-3 mm."""

SAME_NECK_MM = 1e-5
"""Chords whose ends lie closer than this are one narrow place, found from two neighbouring segments."""

FACET_MM = 0.02
"""Chord error of the facets that the search for necks looks through; only candidates come of it."""

TIDY_DECIMALS = 9
"""Decimals of a measurement in mm that are shown: LIMIT_SLACK_MM, beyond which lies only rounding."""

HEAL_MM, HEAL_KERFS = 0.1, 1 / 3
"""The tolerance of healing a drawing that was read, unless another is asked for, and the most of it in kerfs: what is
moved by less can't be seen on the cut edge. 0.1 mm is far above what rounding to two decimals leaves between lines
that were meant to meet, and under the repeatability of a plasma table; both from memory."""

LEAST_HEAL_MM = 0.001
"""The least tolerance of healing that may be asked for: rounding to three decimals."""

SLIP_MM, SLIP_SHARE = 1.0, 0.1
"""Ends of two lines no further apart than this, or than this share of the shorter line, were meant to meet, common
practice; others are told of as lines that join nothing."""

SAME_END_MM = 1e-6
"""Ends of a drawing that was read are one point, without a word, when closer than this: rounding to the six
decimals that files are commonly written with."""

OVERLAP_MM = 1e-3
"""Lines that double back from a point lie on each other when closer than this: rounding to three decimals. More would
take the tip of a needle for a line drawn twice."""

PEN_MM = 1.0
"""A line of a drawing that was read and is stroked up to this wide stands for its middle: the wide lines of drawings
are drawn with pens of up to 1 mm (ISO 128-2), and nobody cuts a strip so narrow out of plate."""
PEN_IN = 0.04
"""The same of a drawing in inches, where pens are told in hundredths (from memory)."""

CURVE_FIT_MM = 0.02
"""Arcs stand for a curve that was read when no point of it is further off: under the repeatability of the
finest process, and finer than it would be drawn."""

STRAIGHT_MM = 1e-4
"""A fitted arc that bows less than this is a line: a two hundredth of CURVE_FIT_MM."""

CHORD_BOW_MM = 0.25
"""A chain of chords is read as an arc only if each bows no further from it: beyond that a person sees flats
and may have meant them."""

LEAST_LENGTH_MM = 1e-3
"""A dimension other than 0 that is smaller is a slip of the pen: a tenth of what a shop's micrometer shows."""

JET_SLACK_MM = 1e-6
"""A jet goes into what is this much narrower: what it just fits into, it fits into, rounding included."""

SETTLED_ERROR = 1e-13
"""A step of the truing that changes ratios and radians less than this is the last: over 10 m it is 1e-9 mm."""

SETTLED_RANK = 1e-10
"""Singular values below this share of the greatest are rounding: readings settle nothing along them."""

SETTLED_SHARE = 1e-7
"""An error with a smaller share of it unseen by the readings is settled; the same of a reading's redundancy."""

NO_GAIN = 1e-6
"""A reading with a smaller share in the uncertainty of an error says nothing of it: rounding."""

SAME_VALUE = 1e-12
"""A value this close to its limit passes, of ratios and degrees: 3 degrees in radians and back are 3."""

SAME_TEST_RATIO = 1e-6
"""Residuals that differ by a smaller part are one: readings that can't be told from each other."""

COMPENSATED_MM = 1e-4
"""Arcs of a compensated drawing stay this close to the mapped ellipse: a tenth of a micron."""
