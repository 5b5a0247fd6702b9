"""The title block's own words: what is said of one drawing beside its values, and what the shop's file says of all.

The fields are those of ISO 7200:2004: legal owner, identification number, revision index, date of issue, sheet, title,
creator, approval person, document type. What nobody says stays a blank to fill in by hand.
"""

from collections.abc import Mapping

from parts import shop
from parts.cutting import tolerance_class
from parts.errors import Problem, Refused
from parts.record import Record
from parts.templates import template

SAID: Mapping[str, str] = {
    "number": "identification number, in place of the template's name",
    "revision": "revision index, such as B",
    "issued": "date of issue, such as 2026-12-01",
    "drawn_by": "creator",
    "approved_by": "approval person",
}
"""What may be said of one drawing, and what each is."""
LONGEST = 40
DOCUMENT_TYPE = "Part drawing"


def taken_out(slug: str, values: dict[str, str]) -> Mapping[str, str]:
    """Take out of values what the title block shall say, and return it; a template's own parameters stay.

    Raises:
        Refused: a text is longer than its field, or isn't printable.
        UnknownTemplate: there is no such template.
    """
    own = template(slug).parameters.specs()
    names = [name for name in SAID if name in values and name not in own]
    said = {name: " ".join(values.pop(name).split()) for name in names}
    wrong = [name for name, text in said.items() if len(text) > LONGEST or not text.isprintable()]
    if wrong:
        message = f"must be at most {LONGEST} letters in one line."
        raise Refused(tuple(Problem(name, said[name][:LONGEST], message) for name in wrong))
    return {name: text for name, text in said.items() if text}


def fields(record: Record) -> Mapping[str, str]:
    """Return what the title block of a part says, by ISO 7200's fields; "" for what is left to fill in."""
    of_shop, said = shop.load(shop.edition()).title_block, record.title_block
    return {
        "owner": of_shop.owner,
        "number": said.get("number", record.template.slug),
        "document_type": of_shop.document_type or DOCUMENT_TYPE,
        "creator": said.get("drawn_by", of_shop.creator),
        "approval": said.get("approved_by", of_shop.approval),
        "issued": said.get("issued", ""),
        "revision": said.get("revision", ""),
        "tolerances": of_shop.tolerances or tolerances(record),
    }


def tolerances(record: Record) -> str:
    """Return the tolerance note where the shop says none: the class of ISO 9013 that the process usually keeps."""
    kept = tolerance_class(record.job.cut.process)
    return f"Cut: ISO 9013, tolerance class {kept}" if kept else "As agreed; ISO 9013 has no class for this cut"
