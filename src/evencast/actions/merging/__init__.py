"""Two people's changes of one document: brought together where they lie apart, shown where not."""

from evencast.actions.merging.merging import merge, settle

__all__ = ["merge", "settle"]
