"""One module a rule, of the rule's name: a profile that breaks it, one that obeys it.

`BREAKS` and `OBEYS` are profiles; `STOCK`, where it is there, the values of common parameters they are cut
with, instead of the defaults.
"""
