"""How soft a light is: the size it shines with, and how wide the edge of a shadow gets.

Source  elementary geometry of similar triangles, in any text on optics: from a light of width w
        an edge at distance a throws a half-shadow of width w b / a on a surface b behind it
"""

from __future__ import annotations

import math

EDGE_M = 0.3
"""The example told: an edge that far in front of the face, such as a hand or a flag's rim."""


def shining_size_m(
    size_m: float | None, *, frost_size_m: float | None, frosted: bool
) -> float | None:
    """Greatest width of what shines: the lit frost where frost hangs. [m]

    Returns None where it is not known
    """
    return frost_size_m if frosted else size_m


def shadow_edge_m(size_m: float, *, light_to_edge_m: float, edge_to_surface_m: float) -> float:
    """Width of the half-shadow that an edge throws, from full light to none. [m]

    size_m : width of the light across the edge; light, edge and surface stand square to each
             other, the light evenly lit
    light_to_edge_m : above 0
    """
    return size_m * edge_to_surface_m / light_to_edge_m


def shadow_edge_at_m(size_m: float, *, distance_m: float, edge_m: float = EDGE_M) -> float | None:
    """The same for an edge in front of a subject at that distance from the light. [m]

    edge_m : from the edge to the subject
    Returns None where the light is no further away than the edge
    """
    if distance_m <= edge_m:
        return None
    return shadow_edge_m(size_m, light_to_edge_m=distance_m - edge_m, edge_to_surface_m=edge_m)


def seen_deg(size_m: float, *, distance_m: float) -> float:
    """The angle under which a light is seen from the subject. [degrees]"""
    return 2.0 * math.degrees(math.atan(size_m / 2.0 / distance_m))
