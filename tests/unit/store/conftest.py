from tests.libraries import clock, library, place, server

__all__ = ["clock", "library", "place", "server"]
