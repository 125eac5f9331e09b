"""QR codes: what they say, how large they are printed, and that they are the same every time."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree

import pytest
import segno

from evencast.handouts.qr import LEAST_CODE_MM, LEAST_MODULE_MM, qr_code


@pytest.mark.parametrize("letters", [20, 60, 120, 234])
def test_a_code_is_never_too_fine_for_a_phone(letters: int) -> None:
    """ISO/IEC 18004: a code of version v has 17 + 4 v modules to a side, 4 of white around it."""
    text = "https://set.example/" + "a" * (letters - 20)
    code = qr_code(text)
    side = int(re.findall(r'viewBox="0 0 (\d+) ', code.svg)[0])
    version = int(segno.make(text, error="m", micro=False).version)
    assert side == 17 + 4 * version + 8
    module_mm = code.width_mm / side
    assert module_mm >= LEAST_MODULE_MM - 1e-3
    assert module_mm * (side - 8) >= LEAST_CODE_MM - 0.01
    assert code.width_mm < 40.0


def test_it_is_a_plain_picture() -> None:
    code = qr_code("https://set.example/#x")
    root = ElementTree.fromstring(code.svg)
    assert code.svg.startswith("<svg")
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert "style" not in code.svg
    assert {each.get("fill") or each.get("stroke") for each in root} == {"#fff", "#000"}
    assert code == qr_code("https://set.example/#x")
