"""evencast: what to put in front of each light so that the lights agree on camera."""

__version__ = "0.1.0"
