"""Where the app is, as text; QR codes in the letters of the terminal."""

from __future__ import annotations

import io
from textwrap import fill

from evencast.results.serving import JoinCode, Serving

MAY = {"edit": "to change", "view": "to look"}


def serving(told: Serving) -> str:
    """Where it is, and how the crew joins."""
    lines = [f"This laptop:  {told.url}"]
    if told.crew is not None:
        lines += [f"The crew:     {told.crew}join", ""]
        for each in told.codes:
            lines += _code(each)
        lines += [fill(each, 80) for each in told.mind]
        lines += ["New codes, and who is in: the page Crew on this laptop."]
    lines += ["", f"Library  {told.library}", f"Log      {told.log}", "Ctrl-C ends it."]
    return "\n".join(lines)


def _code(code: JoinCode) -> list[str]:
    import segno  # only here is a code drawn in letters

    drawn = io.StringIO()
    segno.make(code.link, error="l", micro=False).terminal(drawn, border=2, compact=True)
    return [f"Code {MAY[code.role]}:  {code.code}", "", drawn.getvalue().rstrip("\n"), ""]
