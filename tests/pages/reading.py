"""What is in a PDF: its pages as pictures, its text, its tags; and how a picture is compared.

Pictures are kept in `tests/pages/snapshots`, grey and small. A snapshot says "as it was last
time", not "right": each was looked at when it was kept. `python -m pytest tests/pages --keep`
keeps them anew.
"""

from __future__ import annotations

import io
import re
from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2
from PIL import Image

SNAPSHOTS = Path(__file__).parent / "snapshots"
DOTS_PER_INCH = 36.0
MOST_MEAN = 0.8
"""Mean difference of two pictures of a page, of 255, that another renderer may make."""
MOST_BLOCK = 24.0
"""Mean difference of any block of 8 x 8 dots, of 255: a word that is gone, or a moved row."""
MM_PER_POINT = 25.4 / 72.0


def pictures(pdf: bytes, *, dots_per_inch: float = DOTS_PER_INCH) -> list[np.ndarray]:
    """Every page in grey. [(height, width) of 0 to 255]"""
    document = pypdfium2.PdfDocument(pdf)
    return [
        np.asarray(
            page.render(scale=dots_per_inch / 72.0, grayscale=True).to_pil().convert("L"),
            dtype=float,
        )
        for page in document
    ]


def text_of(pdf: bytes) -> str:
    """All text, page after page, every run of white space as one space and places to break in
    long words taken out."""
    document = pypdfium2.PdfDocument(pdf)
    pages = [page.get_textpage().get_text_range() for page in document]
    return re.sub(r"\s+", " ", " ".join(pages).replace("\u200b", "").replace("\ufffe", "-"))


def sizes_mm(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of every page."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        boxes = [[float(edge) for edge in page.mediabox] for page in opened.pages]
    return [
        (round((box[2] - box[0]) * MM_PER_POINT, 1), round((box[3] - box[1]) * MM_PER_POINT, 1))
        for box in boxes
    ]


def assert_accessible(pdf: bytes, *, title: str) -> None:
    """PDF/UA-1: marked, with language, title shown, structure tree, and the mark itself."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        assert opened.Root.MarkInfo.Marked
        assert str(opened.Root.Lang) == "en"
        assert opened.Root.ViewerPreferences.DisplayDocTitle
        assert len(opened.Root.StructTreeRoot.K) > 0
        with opened.open_metadata() as metadata:
            assert metadata["pdfuaid:part"] == "1"
            assert metadata["dc:title"] == title
        fonts = {
            str(descriptor.get("/FontName"))
            for descriptor in opened.objects
            if isinstance(descriptor, pikepdf.Dictionary)
            and descriptor.get("/Type") == "/FontDescriptor"
        }
        known = ("Inter", "DejaVuSans", "DroidSansFallback", "NanumSquare")
        assert all(any(name in font for name in known) for font in fonts), fonts


def assert_like_snapshot(name: str, pdf: bytes, *, keep: bool) -> None:
    """Every page looks as it did when its picture was kept.

    keep : keep the pages as they are now in place of comparing them
    """
    pages = pictures(pdf)
    if keep:
        SNAPSHOTS.mkdir(exist_ok=True)
        for old in SNAPSHOTS.glob(f"{name}-*.png"):
            old.unlink()
        for number, page in enumerate(pages, 1):
            Image.fromarray(page.astype(np.uint8)).save(SNAPSHOTS / f"{name}-{number}.png")
        return
    kept = sorted(
        SNAPSHOTS.glob(f"{name}-[0-9]*.png"), key=lambda each: int(each.stem.split("-")[-1])
    )
    assert len(kept) == len(pages), f"{name}: {len(pages)} pages, {len(kept)} kept"
    for number, (page, file) in enumerate(zip(pages, kept, strict=True), 1):
        before = np.asarray(Image.open(file), dtype=float)
        assert page.shape == before.shape, f"{name}, page {number}: another size"
        mean, block = differences(page, before)
        assert mean <= MOST_MEAN, f"{name}, page {number}: differs by {mean:.2f} in the mean"
        assert block <= MOST_BLOCK, f"{name}, page {number}: a place differs by {block:.0f}"


def differences(page: np.ndarray, before: np.ndarray) -> tuple[float, float]:
    """Mean difference of two pages, and that of the block of 8 x 8 dots that differs most."""
    apart = np.abs(page - before)
    high, wide = (side // 8 * 8 for side in apart.shape)
    blocks = apart[:high, :wide].reshape(high // 8, 8, wide // 8, 8).mean(axis=(1, 3))
    return float(apart.mean()), float(blocks.max())
