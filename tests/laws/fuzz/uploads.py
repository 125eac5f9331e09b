"""Files as people send them, spoiled in many ways: the same ones for the same seed."""

from __future__ import annotations

import io
import zipfile
from random import Random

from PIL import Image

from evencast import tables
from tests.laws.fuzz.media_readers import LDT, LM63
from tests.laws.fuzz.mutator import spoiled

WAVELENGTHS_NM = range(380, 781, 20)
CSV = "".join(f"{each},{each / 1000}\n" for each in WAVELENGTHS_NM).encode()
SPDX = (
    '<?xml version="1.0"?><IESTM2714 xmlns="http://www.ies.org/iestm2714" version="1.0"><Header/>'
    "<SpectralDistribution><SpectralQuantity>relative</SpectralQuantity>"
    + "".join(
        f'<SpectralData wavelength="{each}">{each / 1000}</SpectralData>' for each in WAVELENGTHS_NM
    )
    + "</SpectralDistribution></IESTM2714>"
).encode()
BOMB = (
    b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "bbbbbbbbbb"><!ENTITY c "&b;&b;&b;&b;&b;">]>'
    b"<IESTM2714>&c;</IESTM2714>"
)
OUTSIDE = b'<!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]><IESTM2714>&b;</IESTM2714>'

HUGE = b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR" + b"\x7f\xff\xff\xff" * 2 + b"\x08\x02" + bytes(100)

NAMES = (
    "../../escaped.csv",
    "/tmp/escaped.csv",
    "C:\\escaped.csv",
    "..\\escaped.csv",
    "a/../../escaped.csv",
    "con.csv",
    "a\x00.csv",
    ".htaccess",
    "a" * 300 + ".csv",
    "\u202egnp.csv",
    "=cmd|' /C calc'!A0.csv",
    "<script>alert(1)</script>.csv",
    "ﬁlm/Übung 3.csv",
    "",
    ".",
    "a//b.csv",
)


def _picture(kind: str) -> bytes:
    file = io.BytesIO()
    Image.new("RGB", (40, 30), (120, 90, 30)).save(file, kind)
    return file.getvalue()


def _zip(members: dict[str, bytes], *, link: str = "") -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members.items():
            archive.writestr(name, content)
        if link:
            info = zipfile.ZipInfo("link.csv")
            info.external_attr = 0o120777 << 16
            archive.writestr(info, link)
    return file.getvalue()


def samples() -> dict[str, list[bytes]]:
    """Sound files by their ending."""
    demo = {name: text.encode() for name, text in tables.demo_documents().items()}
    return {
        ".toml": [demo["plan.toml"], demo["kit.toml"]],
        ".csv": [CSV, demo["worn-half-ctb.csv"]],
        ".spdx": [SPDX],
        ".ies": [text.encode("latin-1") for text in LM63[:2]],
        ".ldt": [text.encode("latin-1") for text in LDT[:2]],
        ".png": [_picture("PNG")],
        ".jpg": [_picture("JPEG")],
        ".tif": [_picture("TIFF")],
        ".zip": [_zip(demo), _zip({"a/b.csv": CSV})],
        ".gdtf": [_zip({"description.xml": b"<GDTF/>"})],
    }


def hostile() -> list[tuple[str, bytes]]:
    """What somebody might send on purpose."""
    bomb = _zip({"zeros.csv": bytes(60_000_000)})
    return [
        *((name, CSV) for name in NAMES),
        *((f"{n}.zip", _zip({each or "x/": CSV})) for n, each in enumerate(NAMES)),
        ("link.zip", _zip({"a.csv": CSV}, link="/etc/passwd")),
        ("bomb.zip", bomb),
        ("nested.zip", _zip({"inner.zip": bomb})),
        ("many.zip", _zip({f"{n}.csv": b"" for n in range(2500)})),
        ("bomb.spdx", BOMB),
        ("outside.spdx", OUTSIDE),
        ("outside.gdtf", _zip({"description.xml": OUTSIDE})),
        ("page.png", b"<html><script>alert(1)</script></html>"),
        ("page.html", b"<html><script>alert(1)</script></html>"),
        ("drawing.svg", b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>"),
        ("program.exe", b"MZ\x90\x00"),
        ("huge.png", HUGE),
        ("deep.toml", b"a = " + b"[" * 20_000),
        ("wide.toml", b"[[light]]\nname = 'a'\n" * 3000),
        ("bytes.toml", b"\xff\xfe\x00"),
        ("empty.zip", b""),
        ("empty.png", b""),
        ("empty.toml", b""),
    ]


def spoilt(case: int, sound: dict[str, list[bytes]]) -> tuple[str, bytes]:
    """A sound file after one or a few spoilings, and a name for it."""
    draw = Random(f"upload {case}")
    ending = draw.choice(sorted(sound))
    content = draw.choice(sound[ending])
    if ending in (".toml", ".csv", ".spdx", ".ies", ".ldt") and draw.random() < 0.6:
        text = spoiled([content.decode("utf-8", "replace")], ["nan", "[[light]]"], f"{case}")
        content = text.encode("utf-8", "replace")
    else:
        content = _bytes_spoiled(content, draw)
    other = draw.choice(sorted(sound)) if draw.random() < 0.1 else ending
    return f"case-{case}{other}", content


def _bytes_spoiled(content: bytes, draw: Random) -> bytes:
    made = bytearray(content)
    for _ in range(draw.randint(1, 4)):
        if not made:
            break
        at = draw.randrange(len(made))
        match draw.randrange(4):
            case 0:
                made[at] ^= 1 << draw.randrange(8)
            case 1:
                del made[at : at + draw.randint(1, 60)]
            case 2:
                made[at:at] = draw.randbytes(draw.randint(1, 40))
            case _:
                del made[at:]
    return bytes(made)
