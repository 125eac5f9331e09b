"""Lights: the built-in ones, those known by numbers, and what dimming and dialling do."""

from evencast.lights.catalogue import (
    aliases,
    builtin,
    builtin_names,
    builtin_names_and_aliases,
)
from evencast.lights.dimming import dim_tungsten
from evencast.lights.expression import light_of, parse_kelvin
from evencast.lights.light import Fitting, Light, LightKind
from evencast.lights.reading import of_kelvin, of_reading, of_spectrum, redial

__all__ = [
    "Fitting",
    "Light",
    "LightKind",
    "aliases",
    "builtin",
    "builtin_names",
    "builtin_names_and_aliases",
    "dim_tungsten",
    "light_of",
    "of_kelvin",
    "of_reading",
    "of_spectrum",
    "parse_kelvin",
    "redial",
]
