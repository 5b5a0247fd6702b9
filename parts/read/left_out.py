"""Left out of an SVG: what is said of each kind of thing that isn't followed, and what to do.

{n} stands for the count with its noun, the name of the kind; of `[it|they]` one is said.
"""

_OUTLINE = "Draw [it|them] as [an outline|outlines] if [it is|they are] to be cut."
_LAYER = "Put [it|them] on a layer named SCRIBE or BEND if [it isn't|they aren't] cut."
_SAVE = "Save the drawing with [it|them] in it."
OF_SVG: dict[str, tuple[str, str]] = {
    "outline filled over": ("{n} left out: [it lies|they lie] in what the same path fills, so [it doesn't|they don't] "
                            "show",
                            "If it is to be cut out, draw it the other way round, or fill by the even-odd rule."),
    "marker": ("{n} left out: of an arrowed line only the line is cut", _OUTLINE),
    "pattern": ("{n} taken as [a plain fill|plain fills]",
                "Draw the lines of the pattern as outlines if they are to be cut."),
    "dashed line": ("{n} cut without [its|their] gaps", _LAYER),
    "filter": ("{n} not followed: what [it blurs or moves|they blur or move] is cut as it was drawn",
               "Draw it as it shall be cut."),
    "clip drawn by style": ("{n} not followed: more may be cut than shows", "Save the drawing with clip paths."),
    "mask drawn by style": ("{n} not followed: more may be cut than shows", "Save the drawing with masks."),
    "clip that isn't in the file": ("{n} not followed: more may be cut than shows", _SAVE),
    "mask that isn't in the file": ("{n} not followed: more may be cut than shows", _SAVE),
    "style sheet outside the file": ("{n} not followed: what [it hides|they hide] is read, "
                                     "and what [it shows|they show] may be missing",
                                     "Save the drawing with its styles in it."),
    "style rule": ("{n} not followed, which [picks what it is|pick what they are] about in a way that isn't read",
                   "Look whether what it hides or shows is right."),
}  # fmt: skip
MANY_OF_SVG: dict[str, str] = {
    "clip that isn't in the file": "clips that aren't in the file",
    "mask that isn't in the file": "masks that aren't in the file",
    "outline filled over": "outlines filled over",
    "clip drawn by style": "clips drawn by style",
    "mask drawn by style": "masks drawn by style",
    "style sheet outside the file": "style sheets outside the file",
}
"""Of nouns whose plural isn't made with an s."""
