"""Filters: generic, declared or measured, and stacks of them."""

from evencast.filters.families import generic, generic_names
from evencast.filters.filter import SEARCHED_ROLES, Filter, Role, stack

__all__ = ["SEARCHED_ROLES", "Filter", "Role", "generic", "generic_names", "stack"]
