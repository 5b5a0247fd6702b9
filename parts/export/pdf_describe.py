"""What a PDF of a part says of itself, so that it opens again."""

from reportlab.pdfgen.canvas import Canvas

from parts.export.about import facts, parameter_texts
from parts.record import VERSION, Record


def describe(canvas: Canvas, record: Record, what: str) -> None:
    """Put into the file what the part is and how to draw it again; `what` is what the file shows of it."""
    texts = {name: text.replace("%", "%25").replace(";", "%3B") for name, text in parameter_texts(record).items()}
    every = [*facts(record).items(), *texts.items()]  # a semicolon in a value ends none
    canvas.setTitle(record.template.title)
    canvas.setSubject("; ".join(f"{name}={value}" for name, value in every))
    canvas.setCreator(f"Platewright {VERSION}")
    canvas.setAuthor("")
    canvas.setKeywords(f"{what}, {record.template.slug}")
