"""The published reference of a kit, its comparison sheet, and its lessons."""
