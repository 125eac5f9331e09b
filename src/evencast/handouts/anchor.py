"""Where on the pocket page a light is found: the part of its address behind the "#"."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import unicodedata

LONGEST_WORDS = 24
"""Letters of the readable part: an address this short still fits a QR code of large dots."""


def anchor(light: str, setup: str) -> str:
    """The anchor of a light in a set-up: "bench-lamp-3x2a7lgy".

    light, setup : names as the plan writes them; the set-up is "" where the plan has none
    Returns lower-case ASCII letters, digits and hyphens, first a letter: what can be read of the
            light's name, and 40 bits of a digest of both names, so that names of any script,
            or that differ only in capitals or signs, have anchors of their own. The same names
            give the same anchor everywhere and always.
    """
    both = json.dumps([light, setup]).encode("ascii")
    digest = base64.b32encode(hashlib.sha256(both).digest()[:5]).decode("ascii").lower()
    return f"{_words(light) or 'light'}-{digest}"


def _words(name: str) -> str:
    """What of a name can be read in plain letters, from its first letter on."""
    letters = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode("ascii")
    words = re.sub(r"[^a-z0-9]+", "-", letters.lower()).lstrip("-0123456789")
    return words[:LONGEST_WORDS].strip("-")
