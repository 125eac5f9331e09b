"""Filters: generic, declared or measured, and stacks of them."""

from evencast.filters.families import generic, generic_names
from evencast.filters.filter import SEARCHED_ROLES, Filter, Role, stack, stack_members

__all__ = ["SEARCHED_ROLES", "Filter", "Role", "generic", "generic_names", "stack", "stack_members"]
