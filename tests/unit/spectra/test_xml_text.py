"""XML that means harm, or that no spectrum ever looked like: refused in words, and at once."""

from __future__ import annotations

import time

import pytest

from evencast.spectra import read_spectrum
from tests.unit.spectra.tm27_texts import (
    DATA,
    EXPORT,
    HEAD,
    document,
    refusal,
)

DOCTYPE = (
    "holds a DOCTYPE, which is not read: it can make a file swell without end or reach for "
    "other files"
)
BOMB = "".join(f'<!ENTITY e{n} "{f"&e{n - 1};" * 10}">' for n in range(1, 10))
HOSTILE = {
    "entity bomb": (
        document(before=f'<!DOCTYPE x [<!ENTITY e0 "ha">{BOMB}]>\n', data="&e9;"),
        (DOCTYPE, "lamp.spdx, line 1", "Take the DOCTYPE out; a spectrum needs none."),
    ),
    "quadratic entity": (
        document(before=f'<!DOCTYPE x [<!ENTITY a "{"a" * 9999}">]>\n', data="&a;" * 9999),
        (DOCTYPE, "lamp.spdx, line 1", "Take the DOCTYPE out; a spectrum needs none."),
    ),
    "external entity": (
        document(before='\n<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/hostname">]>', data="&a;"),
        (DOCTYPE, "lamp.spdx, line 2", "Take the DOCTYPE out; a spectrum needs none."),
    ),
    "external subset": (
        document(before='<!DOCTYPE x SYSTEM "http://localhost:1/x.dtd">\n'),
        (DOCTYPE, "lamp.spdx, line 1", "Take the DOCTYPE out; a spectrum needs none."),
    ),
    "parameter entity": (
        document(before='<!DOCTYPE x [<!ENTITY % p SYSTEM "file:///etc/hostname">%p;]>\n'),
        (DOCTYPE, "lamp.spdx, line 1", "Take the DOCTYPE out; a spectrum needs none."),
    ),
    "empty doctype": (
        document(before="<!DOCTYPE IESTM2714>\n"),
        (DOCTYPE, "lamp.spdx, line 1", "Take the DOCTYPE out; a spectrum needs none."),
    ),
    "undeclared entity": (
        document(data="&lamp;"),
        ("is not well-formed XML: undefined entity", "lamp.spdx, line 4", EXPORT),
    ),
    "include": (
        document(
            data='<x:include xmlns:x="http://www.w3.org/2001/XInclude" href="/etc/hostname"/>'
        ),
        (
            "only 0 samples: too few for a spectrum",
            "lamp.spdx",
            "Give at least 16, from 400 to 700 nm, no more than 20 nm apart.",
        ),
    ),
    "deep": (
        document(data="<a>" * 500_000),
        ("elements stand more than 3 deep", "lamp.spdx, line 4", EXPORT),
    ),
    "deep and closed": (
        document(data="<a>" * 9999 + "</a>" * 9999),
        ("elements stand more than 3 deep", "lamp.spdx, line 4", EXPORT),
    ),
    "endless": (
        document(data="<a/>" * 300_000),
        ("more than 200000 elements", "lamp.spdx, line 4", "Check that this is the right file."),
    ),
    "null byte": (
        document(data=DATA.replace("0.430", "0.4\x0030")),
        ("is not well-formed XML: not well-formed (invalid token)", "lamp.spdx, line 10", EXPORT),
    ),
    "lone surrogate": (
        document(data=DATA.replace("0.430", "0.4\ud80030")),
        ("is not well-formed XML: not well-formed (invalid token)", "lamp.spdx, line 10", EXPORT),
    ),
    "cut short": (
        document()[:-200],
        ("is not well-formed XML: unclosed token", "lamp.spdx, line 61", EXPORT),
    ),
    "nothing": ("", ("is not well-formed XML: no element found", "lamp.spdx, line 1", EXPORT)),
    "attribute twice": (
        document(data=DATA.replace('"430"', '"430" wavelength="435"')),
        ("is not well-formed XML: duplicate attribute", "lamp.spdx, line 10", EXPORT),
    ),
    "undeclared prefix": (
        document(data="<x:a/>"),
        ("is not well-formed XML: unbound prefix", "lamp.spdx, line 4", EXPORT),
    ),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_xml_is_refused_at_once(name: str) -> None:
    """Bombs, far-reaching entities, depth, endless elements, bytes that are no text."""
    text, said = HOSTILE[name]
    started = time.process_time()
    assert refusal(text) == said
    assert time.process_time() - started < 10.0


def test_huge_attributes_and_texts_take_no_time() -> None:
    """A million letters in one attribute, a hundred thousand attributes, a million in a text."""
    many = " ".join(f'a{n}="1"' for n in range(100_000))
    started = time.process_time()
    text = document(
        head=HEAD.replace("shed lamp", "x" * 1_000_000),
        data=DATA.replace('"430"', f'"430" {many}').replace(
            '"435"', f'"435" b="{"x" * 1_000_000}"'
        ),
    )
    file = read_spectrum(text, quantity="power", where="lamp.spdx")
    assert file.description == "x" * 79 + "…"
    assert file.remarks[1] == "not quite by the rules (unknown: SpectralData)"
    assert time.process_time() - started < 10.0
