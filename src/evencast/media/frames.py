"""The author's test frames: a photograph as a file, small enough for a page.

PNG, JPEG and TIFF, in sRGB or Display P3, upright as the camera held it. What else a file
carries (where it was taken, with what) is left behind.
"""

from __future__ import annotations

import os
import zlib
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

import numpy as np

from evencast.camera.display import display_named, srgb_light
from evencast.errors import EvencastError
from evencast.quantities import Floats

if TYPE_CHECKING:
    from OpenImageIO import ImageBuf

MOST_BYTES = 64 * 1024 * 1024
MOST_PIXELS = 60_000_000
"""More than cameras for moving pictures have; a file may claim any number in a few bytes."""
LEAST_SIDE_PX = 16
WIDEST_PX = 1200
"""300 dots per inch at 100 mm: a frame is never printed larger."""
JPEG_QUALITY = 90

_BEGINNINGS = {
    b"\x89PNG\r\n\x1a\n": "png",
    b"\xff\xd8\xff": "jpg",
    b"II*\0": "tif",
    b"MM\0*": "tif",
}
_AGAIN = "Check that this is the right file; export it again as PNG, JPEG or TIFF if it is."


@dataclass(frozen=True, slots=True)
class Frame:
    """A photograph fit for a page.

    jpeg              : its bytes, sRGB
    width_px, height_px : its size, not larger than the file's
    """

    jpeg: bytes
    width_px: int
    height_px: int


def frame_of(content: bytes, *, where: str, widest_px: int = WIDEST_PX) -> Frame:
    """A photograph from the bytes of its file, no wider or higher than `widest_px`.

    Raises  EvencastError where it is no PNG, JPEG or TIFF, is cut short or broken, holds more
            than 60 million pixels, or is too small to show anything
    """
    ending = _ending(content, where)
    with TemporaryDirectory(prefix="evencast-") as folder:  # OpenImageIO reads and writes paths
        path = Path(folder) / f"frame.{ending}"
        path.write_bytes(content)
        picture = _upright(_opened(path, where), where)
        return _written(_small(picture, widest_px), Path(folder) / "small.jpg", where)


def _ending(content: bytes, where: str) -> str:
    if len(content) > MOST_BYTES:
        raise _fault(f"is larger than {MOST_BYTES >> 20} MiB", where, "Export it smaller.")
    for beginning, ending in _BEGINNINGS.items():
        if content.startswith(beginning):
            if not _WHOLE.get(ending, bool)(content):
                raise _fault("is cut short or broken", where, _AGAIN)
            return ending
    raise _fault("is no PNG, JPEG or TIFF", where, "Export the frame as one of these.")


def _whole_png(content: bytes) -> bool:
    """Whether every chunk is there, with its checksum, to the last. Source  ISO/IEC 15948"""
    at = 8
    while at + 12 <= len(content):
        length, kind = int.from_bytes(content[at : at + 4], "big"), content[at + 4 : at + 8]
        end = at + 12 + length
        if end > len(content) or zlib.crc32(content[at + 4 : end - 4]) != int.from_bytes(
            content[end - 4 : end], "big"
        ):
            return False
        if kind == b"IEND":
            return True
        at = end
    return False


def _whole_jpeg(content: bytes) -> bool:
    """Whether the picture that begins also ends; decoders fill up what is missing with grey.

    Source  ITU-T T.81, annex B: after the first scan the end marker stands nowhere else
    """
    at = 2
    while at + 4 <= len(content) and content[at] == 0xFF:
        marker, length = content[at + 1], int.from_bytes(content[at + 2 : at + 4], "big")
        if marker == 0xDA:
            return content.find(b"\xff\xd9", at) > 0
        at += 1 if marker == 0xFF else 2 + length
    return False


_WHOLE = {"png": _whole_png, "jpg": _whole_jpeg}
"""Asked before a decoder is, which would write its own complaints to the terminal."""


def _opened(path: Path, where: str) -> ImageBuf:
    """The picture, its size looked at before its pixels are read."""
    import OpenImageIO as oiio  # noqa: N813 - the name it goes by

    picture = oiio.ImageBuf(os.fspath(path))
    if picture.has_error or not picture.initialized:
        picture.geterror()
        raise _fault("cannot be read as a picture", where, _AGAIN)
    spec = picture.spec()
    if spec.width * spec.height > MOST_PIXELS:
        raise _fault(
            f"is {spec.width} x {spec.height} pixels, over {MOST_PIXELS // 1_000_000} million",
            where,
            "Export it smaller: 1200 pixels wide is enough.",
        )
    if min(spec.width, spec.height) < LEAST_SIDE_PX:
        raise _fault(
            f"is {spec.width} x {spec.height} pixels: too small to show anything",
            where,
            f"Give a picture of at least {LEAST_SIDE_PX} pixels either way.",
        )
    if not picture.read(0, 0, force=True, convert=oiio.UINT8) or picture.has_error:
        picture.geterror()
        raise _fault("is cut short or broken", where, _AGAIN)
    return picture


def _upright(picture: ImageBuf, where: str) -> ImageBuf:
    import OpenImageIO as oiio  # noqa: N813

    turned = oiio.ImageBufAlgo.reorient(picture)
    if turned.has_error:
        raise _fault(f"cannot be turned upright: {turned.geterror()}", where, _AGAIN)
    return turned


def _small(picture: ImageBuf, widest_px: int) -> Floats:
    """The picture in sRGB, made smaller where it is too large. [(height, width, 3), 0 to 1]"""
    import OpenImageIO as oiio  # noqa: N813

    spec = picture.spec()
    scale = widest_px / max(spec.width, spec.height)
    if scale < 1.0:
        size = [max(1, round(side * scale)) for side in (spec.width, spec.height)]
        picture = oiio.ImageBufAlgo.resize(
            picture,
            roi=oiio.ROI(0, size[0], 0, size[1]),
            filtername="box" if scale < 0.5 else "triangle",
        )
    pixels = np.asarray(picture.get_pixels(oiio.FLOAT), dtype=float)
    colour = pixels[..., :3] if pixels.shape[2] >= 3 else np.repeat(pixels[..., :1], 3, axis=2)
    if "Display P3" in str(spec.getattribute("ICCProfile:profile_description") or ""):
        wide, narrow = display_named("Display P3"), display_named("sRGB")
        to_narrow = narrow.from_xyz @ np.linalg.inv(wide.from_xyz)
        colour = narrow.encode(np.clip(srgb_light(colour) @ to_narrow.T, 0.0, 1.0))
    return np.asarray(np.clip(colour, 0.0, 1.0))


def _written(colour: Floats, path: Path, where: str) -> Frame:
    import OpenImageIO as oiio  # noqa: N813

    height, width, _ = colour.shape
    spec = oiio.ImageSpec(width, height, 3, oiio.UINT8)
    spec.attribute("Compression", f"jpeg:{JPEG_QUALITY}")
    whole = np.ascontiguousarray(np.rint(colour * 255.0).astype(np.uint8))
    small: Any = oiio.ImageBuf(spec)
    if not small.set_pixels(oiio.ROI(0, width, 0, height, 0, 1, 0, 3), whole) or not small.write(
        os.fspath(path)
    ):
        raise _fault(f"cannot be made smaller: {small.geterror()}", where, _AGAIN)
    return Frame(path.read_bytes(), width, height)


def _fault(what: str, where: str, remedy: str) -> EvencastError:
    return EvencastError(what, where=where, remedy=remedy)
