"""colour-science, the outside oracle, imported without its notes on optional packages."""

from __future__ import annotations

import warnings

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it names every optional package that is not installed
    import colour

__all__ = ["colour"]
