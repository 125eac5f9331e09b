"""What a device is, in words, so that one knows whom a session belongs to."""

from __future__ import annotations

DEVICES = (
    ("iPhone", "iPhone"),
    ("iPad", "iPad"),
    ("Android", "Android"),
    ("CrOS", "Chromebook"),
    ("Windows", "Windows"),
    ("Macintosh", "Mac"),
    ("Linux", "Linux"),
)
BROWSERS = (
    ("Firefox", "Firefox"),
    ("FxiOS", "Firefox"),
    ("EdgA", "Edge"),
    ("Edg/", "Edge"),
    ("SamsungBrowser", "Samsung"),
    ("CriOS", "Chrome"),
    ("Chrome", "Chrome"),
    ("Safari", "Safari"),
)
"""Marks in the order they are looked for: several carry the marks of those below."""


def device_words(user_agent: str) -> str:
    """Such as "iPhone, Safari"; what a browser says of itself, so a hint and no proof."""
    found = [
        next((name for mark, name in known if mark in user_agent), "")
        for known in (DEVICES, BROWSERS)
    ]
    return ", ".join(each for each in found if each) or "unknown device"
