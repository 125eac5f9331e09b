"""The search: every stack for one light, and why the best one is the best."""

from evencast.solver.aim import (
    Aim,
    aim_at_kelvin,
    aim_at_look,
    aim_at_uv,
    aim_beside,
)
from evencast.solver.doubt import judge
from evencast.solver.explain import names_of, reason
from evencast.solver.stacks import (
    PRICE_PER_LAYER_UV,
    PRICE_PER_STOP_UV,
    Evaluated,
    Search,
    count_stacks,
    evaluate,
    search,
)

__all__ = [
    "PRICE_PER_LAYER_UV",
    "PRICE_PER_STOP_UV",
    "Aim",
    "Evaluated",
    "Search",
    "aim_at_kelvin",
    "aim_at_look",
    "aim_at_uv",
    "aim_beside",
    "count_stacks",
    "evaluate",
    "judge",
    "names_of",
    "reason",
    "search",
]
