from __future__ import annotations

import io
from contextlib import suppress
from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageCms

from evencast.errors import EvencastError
from evencast.media.frames import WIDEST_PX, frame_of

LEFT, RIGHT = (200, 120, 40), (40, 90, 160)


def halves(width: int = 240, height: int = 160) -> Image.Image:
    """An orange left half and a blue right half."""
    pixels = np.empty((height, width, 3), dtype=np.uint8)
    pixels[:, : width // 2], pixels[:, width // 2 :] = LEFT, RIGHT
    return Image.fromarray(pixels)


def file_of(picture: Image.Image, kind: str = "PNG", **options: Any) -> bytes:
    made = io.BytesIO()
    picture.save(made, kind, **options)
    return made.getvalue()


def seen(content: bytes) -> np.ndarray:
    frame = frame_of(content, where="a.jpg")
    picture = Image.open(io.BytesIO(frame.jpeg))
    assert picture.size == (frame.width_px, frame.height_px)
    return np.asarray(picture.convert("RGB"), dtype=float)


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "TIFF"])
def test_every_kind_keeps_size_and_colour(kind: str) -> None:
    """A small picture stays as large as it is, its colours within what JPEG loses."""
    shown = seen(file_of(halves(), kind))
    assert shown.shape == (160, 240, 3)
    assert np.abs(shown[20:-20, 20:100] - LEFT).max() <= 3
    assert np.abs(shown[20:-20, 140:-20] - RIGHT).max() <= 3


@pytest.mark.parametrize(
    ("size", "small"),
    [((3000, 2000), (1200, 800)), ((900, 2400), (450, 1200)), ((1300, 40), (1200, 37))],
)
def test_a_large_picture_is_made_smaller_and_keeps_its_shape(
    size: tuple[int, int], small: tuple[int, int]
) -> None:
    frame = frame_of(file_of(halves(*size)), where="a.png")
    assert (frame.width_px, frame.height_px) == small
    assert max(small) == WIDEST_PX


@pytest.mark.parametrize("mode", ["L", "LA", "RGBA", "P", "1"])
def test_pictures_without_three_colours_are_shown_too(mode: str) -> None:
    assert seen(file_of(halves().convert(mode))).shape == (160, 240, 3)


def test_what_the_camera_held_sideways_stands_upright() -> None:
    """EXIF orientation 6: the row above is on the right (CIPA DC-008, 4.6.4)."""
    exif = Image.Exif()
    exif[0x0112] = 6
    shown = seen(file_of(halves(), "JPEG", exif=exif))
    assert shown.shape == (240, 160, 3)
    assert np.abs(shown[20:100, 20:-20] - LEFT).max() <= 3


def test_what_a_file_tells_of_its_maker_is_left_behind() -> None:
    exif = Image.Exif()
    exif[0x010F], exif[0x8298] = "A certain camera", "A certain person"
    frame = frame_of(file_of(halves(), "JPEG", exif=exif), where="a.jpg")
    assert b"A certain" not in frame.jpeg


def test_a_wide_colour_space_is_brought_to_srgb() -> None:
    """Full red of Display P3 lies beyond sRGB; its grey is sRGB's own."""
    grey = Image.new("RGB", (64, 64), (118, 118, 118))
    red = Image.new("RGB", (64, 64), (200, 30, 30))
    profile = _p3_profile()
    assert np.abs(seen(file_of(grey, icc_profile=profile)) - 118).max() <= 1
    shown = seen(file_of(red, icc_profile=profile))[32, 32]
    # independent: P3 D65 to XYZ to sRGB with the published primaries
    assert shown == pytest.approx(_p3_to_srgb(np.array([200, 30, 30]) / 255) * 255, abs=3)


def test_the_same_file_gives_the_same_bytes() -> None:
    content = file_of(halves(1500, 900))
    assert frame_of(content, where="a") == frame_of(content, where="b")


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "TIFF"])
def test_a_file_cut_short_anywhere_is_refused(kind: str) -> None:
    rng = np.random.default_rng(3)
    noisy = Image.fromarray(rng.integers(0, 255, (120, 160, 3), dtype=np.uint8))
    whole = file_of(noisy, kind)
    for share in (0.0, 0.001, 0.01, 0.3, 0.5, 0.9, 0.999):
        with pytest.raises(EvencastError) as refused:
            frame_of(whole[: int(len(whole) * share)], where="frames/a.jpg")
        assert refused.value.where == "frames/a.jpg"
        assert "PNG, JPEG" in refused.value.remedy or "one of these" in refused.value.remedy


def test_absurd_files_are_refused_before_their_pixels_are_read() -> None:
    """Sizes that a header claims, files that are none, and pictures too small to see."""
    with pytest.raises(EvencastError, match="is no PNG, JPEG or TIFF"):
        frame_of(b"GIF89a" + bytes(100), where="a.gif")
    with pytest.raises(EvencastError, match="too small to show anything"):
        frame_of(file_of(halves(12, 12)), where="a.png")
    with pytest.raises(EvencastError, match="over 60 million"):
        frame_of(file_of(Image.new("1", (10_000, 7_000))), where="a.png")
    with pytest.raises(EvencastError, match="larger than 64 MiB"):
        frame_of(bytes(64 * 1024 * 1024 + 1), where="a.png")


def test_no_bytes_crash_it(capfd: pytest.CaptureFixture[str]) -> None:
    """Spoiled in one place after another: a picture or an error of ours, and a quiet terminal."""
    rng = np.random.default_rng(5)
    for kind in ("PNG", "JPEG", "TIFF"):
        whole = file_of(halves(40, 30), kind)
        for _ in range(40):
            spoiled = bytearray(whole)
            for place in rng.integers(0, len(whole), 3):
                spoiled[place] = rng.integers(0, 256)
            with suppress(EvencastError):
                assert frame_of(bytes(spoiled), where="a").jpeg.startswith(b"\xff\xd8")
    assert capfd.readouterr().out == ""


def _p3_to_srgb(encoded: np.ndarray) -> np.ndarray:
    light = np.where(encoded <= 0.04045, encoded / 12.92, ((encoded + 0.055) / 1.055) ** 2.4)
    to_xyz = _to_xyz([(0.680, 0.320), (0.265, 0.690), (0.150, 0.060)])
    srgb_to_xyz = _to_xyz([(0.640, 0.330), (0.300, 0.600), (0.150, 0.060)])
    out = np.clip(np.linalg.solve(srgb_to_xyz, to_xyz @ light), 0, 1)
    return np.where(out <= 0.0031308, out * 12.92, 1.055 * out ** (1 / 2.4) - 0.055)


def _to_xyz(primaries: list[tuple[float, float]]) -> np.ndarray:
    columns = np.array([[x / y, 1.0, (1 - x - y) / y] for x, y in primaries]).T
    x, y = 0.3127, 0.3290
    white = np.array([x / y, 1.0, (1 - x - y) / y])
    return columns * np.linalg.solve(columns, white)


def _p3_profile() -> bytes:
    """A profile by the name that phones give theirs; only the name is read."""
    plain = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    name = b"sRGB built-in"
    assert name.decode("ascii").encode("utf-16-be") in plain or name in plain
    wide = "Display P3 ok".encode("utf-16-be")
    return plain.replace(name.decode().encode("utf-16-be"), wide).replace(name, b"Display P3 ok")
