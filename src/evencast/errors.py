"""What can go wrong, in one shape: what was wrong, where, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal


class EvencastError(Exception):
    """Something the person can mend: what is wrong, where it stands, and the remedy.

    The remedy names what would have been accepted. Shown as three lines, or as
    `{"error": {"what", "where", "remedy"}}` with `--json`; the process ends with 2.
    """

    def __init__(self, what: str, *, where: str, remedy: str) -> None:
        super().__init__(f"{where}: {what}\n{remedy}")
        self.what = what
        self.where = where
        self.remedy = remedy

    def __reduce__(self) -> tuple[object, ...]:
        """Carried between processes whole."""
        return _again, (type(self), str(self), dict(self.__dict__))


def _again(kind: type[EvencastError], told: str, said: dict[str, object]) -> EvencastError:
    error = kind.__new__(kind, told)
    error.__dict__.update(said)
    return error


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with a document, or worth a second look.

    An `error` keeps the document from being used; a `warning` does not.
    """

    severity: Literal["error", "warning"]
    where: str
    message: str
    remedy: str


class DocumentErrors(EvencastError):  # noqa: N818 - it is the errors of a document
    """A document with at least one error; every problem found in the run comes with it.

    The process ends with 1, since the call was right and the document was not.
    """

    def __init__(self, where: str, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        count = sum(problem.severity == "error" for problem in self.problems)
        super().__init__(
            "1 error in the document" if count == 1 else f"{count} errors in the document",
            where=where,
            remedy="Mend what is listed and run again.",
        )


def nearest(name: str, known: Iterable[str], *, most: int = 3) -> list[str]:
    """The known names most like `name`, best first; empty where none is close."""
    from difflib import get_close_matches  # only needed once something is misspelt

    by_folded = {candidate.casefold(): candidate for candidate in known}
    close = get_close_matches(name.casefold(), by_folded, n=most, cutoff=0.5)
    return [by_folded[folded] for folded in close]
