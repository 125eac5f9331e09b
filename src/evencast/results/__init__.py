"""What every command answers, as plain data: the same for terminal, JSON and page.

Field names are the outward contract: they may be added to, never renamed. A value that
does not exist is None, never nan. One module per kind of answer, none loaded from here, so
that a quick question does not build the classes of all others.
"""
