"""Lights: the built-in ones, those known by numbers, and what dimming and dialling do."""

from evencast.lights.catalogue import (
    aliases,
    builtin,
    builtin_names,
    builtin_names_and_aliases,
)
from evencast.lights.dialling import redial
from evencast.lights.dimming import dim_tungsten
from evencast.lights.expression import light_of, parse_kelvin
from evencast.lights.kinds import kind_named
from evencast.lights.light import Fitting, Light, LightKind
from evencast.lights.reading import of_camera, of_kelvin, of_reading, of_spectrum
from evencast.lights.tint import parse_tint

__all__ = [
    "Fitting",
    "Light",
    "LightKind",
    "aliases",
    "builtin",
    "builtin_names",
    "builtin_names_and_aliases",
    "dim_tungsten",
    "kind_named",
    "light_of",
    "of_camera",
    "of_kelvin",
    "of_reading",
    "of_spectrum",
    "parse_kelvin",
    "parse_tint",
    "redial",
]
