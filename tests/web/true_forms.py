"""What a person types into the page of measurements, for tests; of the invented Fernhollow table."""

import html
import re

HERE = {"Origin": "http://localhost", "Sec-Fetch-Site": "same-origin"}
"""What a browser sends with a form of this very page."""

READ = ("300.12", "299.91", "424.35", "349.34", "12.8048", "10.7")


def filled(read=READ, **more):
    """The form of the default square with these readings, in the order of its rows."""
    kinds = ("centres", "centres", "centres", "outside", "inside", "hole")
    ways = ("X", "Y", "135", "X", "X", "X")
    drawn = ("300", "300", "424.2641", "350", "12", "10")
    form = {"units": "mm"}
    for i, (kind, way, nominal, measured) in enumerate(zip(kinds, ways, drawn, read, strict=True)):
        form |= {f"letter.{i}": "ABCDEF"[i], f"kind.{i}": kind, f"direction.{i}": way, f"nominal.{i}": nominal}
        form |= {f"measured.{i}": measured, f"instrument.{i}": "caliper"}
    return form | {name.replace("__", "."): text for name, text in more.items()}


def typed_in(page):
    """Every field of a page with what stands in it."""
    inputs = re.findall(r'<input (?:(?:id|type)="[^"]*" )*name="([^"]+)" value="([^"]*)"', page)
    chosen = re.findall(r'<select name="([^"]+)"[^>]*>.*?<option value="([^"]*)" selected', page)
    return {name: html.unescape(text) for name, text in (*inputs, *chosen)}
