"""Typed values to addresses and back: what a form shows and sends, and whether a sent one is our own."""

from webapp.forms import carried_file, own_font, own_site, setting
from webapp.forms.canonical import TYPED_IN, in_units, shortest
from webapp.forms.drawing_roles import RoleRow, RoleRows, role_rows
from webapp.forms.for_table import COMPENSATE, PIECE, choices, for_table, made_for
from webapp.forms.form import FormRow, Option, Typed, groups, title_of
from webapp.forms.job_line import JOB_LINE, JobLine
from webapp.forms.most import allow, too_large
from webapp.forms.request import LONGEST_VALUE, values_of
from webapp.forms.undo import WAS, Before, Link

__all__ = [
    "COMPENSATE",
    "JOB_LINE",
    "LONGEST_VALUE",
    "PIECE",
    "TYPED_IN",
    "WAS",
    "Before",
    "FormRow",
    "JobLine",
    "Link",
    "Option",
    "RoleRow",
    "RoleRows",
    "Typed",
    "allow",
    "carried_file",
    "choices",
    "for_table",
    "groups",
    "in_units",
    "made_for",
    "own_font",
    "own_site",
    "role_rows",
    "setting",
    "shortest",
    "title_of",
    "too_large",
    "values_of",
]
