"""A kit ready for use: its document read, its filters as spectra."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from evencast.colour import white, xyz
from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.filters import SEARCHED_ROLES, Filter, generic, generic_names
from evencast.filters.declared import KelvinDeclaration, NominalSheet, from_kelvin
from evencast.quantities import stops_of_ratio
from evencast.spectra import read_spectrum
from evencast.store.files import read_text

if TYPE_CHECKING:  # loads pydantic; most quick questions name no kit
    from evencast.plan.kit import KelvinNumbers, Kit, KitFilter

MOST_DECLARED = 256
"""Sheets by printed numbers that are remembered: each takes hundredths of a second to work out."""


@dataclass(frozen=True, slots=True, eq=False)
class LoadedKit:
    """Filters at hand.

    name     : as shown
    filters  : every one, in the kit's order
    problems : warnings of its document
    document : what its document says; None for a kit without one
    """

    name: str
    filters: tuple[Filter, ...]
    problems: tuple[Problem, ...] = ()
    document: Kit | None = None

    def find(self, name: str) -> Filter | None:
        """The filter of that name, upper or lower case; None if it is not in the kit."""
        wanted = " ".join(name.casefold().split())
        return next((each for each in self.filters if each.name.casefold() == wanted), None)

    def searched(self) -> list[Filter]:
        """Those a search may pick from."""
        return [each for each in self.filters if each.role in SEARCHED_ROLES]


def every_generic() -> LoadedKit:
    """The kit used when none is named: one of every generic filter."""
    return LoadedKit("the generic filters", tuple(generic(name) for name in generic_names()))


def load_kit(path: Path) -> LoadedKit:
    """A kit document and the spectra it names.

    Raises  DocumentErrors with every problem of the document and of its filters
    """
    from evencast.actions.printed import printed_problems  # as above
    from evencast.plan.document import read_kit

    document, problems = read_kit(
        read_text(path).text, where=path.name, known_filters=generic_names()
    )
    filters = []
    for entry in document.model.filter if document else ():
        try:
            built = _build(entry, path.parent)
            filters.append(built)
            problems += _darker_than_declared(entry, built, where=path.name)
        except EvencastError as error:
            place = f'{path.name}, filter "{entry.name}" ({error.where})'
            problems.append(Problem("error", place, error.what, error.remedy))
    if document is None or any(problem.severity == "error" for problem in problems):
        raise DocumentErrors(path.name, problems)
    problems += printed_problems(document.model.filter, where=path.name)
    return LoadedKit(document.model.name, tuple(filters), tuple(problems), document.model)


def _build(entry: KitFilter, folder: Path) -> Filter:
    """One filter of the kit as a spectrum, under the kit's own name and role."""
    known = _known(entry, folder)
    return replace(
        known,
        name=entry.name,
        role=entry.role,
        series=entry.series or known.series,
        note=entry.note or known.note,
    )


def _known(entry: KitFilter, folder: Path) -> Filter:
    """What is known of its spectrum."""
    if entry.generic is not None:
        return generic(entry.generic)
    if entry.spectrum is not None:
        text = read_text(folder / entry.spectrum).text
        file = read_spectrum(text, quantity="transmittance", where=entry.spectrum)
        return Filter(entry.name, entry.role, file.transmittance, measured=True, note=file.note)
    if entry.kelvin is not None:
        sheet = _declared(_declaration(entry.kelvin), entry.name)
        return Filter(
            entry.name,
            entry.role,
            sheet.transmittance,
            measured=False,
            possible=sheet.possible,
            on_k=entry.kelvin.from_k,
        )
    from evencast.actions.printed import printed_filter  # as above

    return printed_filter(entry)


@lru_cache(MOST_DECLARED)
def _declared(declaration: KelvinDeclaration, name: str) -> NominalSheet:
    """What a sheet may be by its printed numbers; they are the same whatever else a kit says."""
    return from_kelvin(declaration, key=name, where="kelvin")


def _darker_than_declared(entry: KitFilter, built: Filter, *, where: str) -> list[Problem]:
    """A warning where plausible dyes of the declared colour lose more than was printed."""
    if entry.kelvin is None:
        return []
    declared = _declaration(entry.kelvin)
    light = white(declared.from_k, locus=declared.from_locus)
    loss_stops = stops_of_ratio(float(xyz(light * built.transmittance)[1] / xyz(light)[1]))
    if loss_stops <= declared.stops + declared.rounding_stops:
        return []
    return [
        Problem(
            "warning",
            f'{where}, filter "{entry.name}".kelvin',
            f"{declared.stops:g} stop is brighter than plausible dyes of that colour can be, "
            f"which lose {loss_stops:.2f}",
            "Meter the loss and declare it, or give a measured spectrum.",
        )
    ]


def _declaration(numbers: KelvinNumbers) -> KelvinDeclaration:
    return KelvinDeclaration(
        from_k=numbers.from_k,
        to_k=numbers.to_k,
        stops=numbers.stops,
        from_locus=numbers.from_locus,
        to_locus=numbers.to_locus,
        duv=numbers.duv,
        rounding_k=50.0 if numbers.rounding_k is None else numbers.rounding_k,
        rounding_stops=1 / 6 if numbers.rounding_stops is None else numbers.rounding_stops,
    )
