"""What is typed at the speed of a set: one line to a light, one line to a reading."""

from evencast.actions.entry.typed import answered, typed_light

__all__ = ["answered", "typed_light"]
