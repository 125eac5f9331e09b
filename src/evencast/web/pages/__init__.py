"""What each page shows, as a dataclass: the template lays it out, the JSON twin is it."""
