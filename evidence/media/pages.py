"""Turn the pages of a PDF into pictures: nothing else of it is kept."""

import codecs
from importlib import import_module
from typing import BinaryIO

import pypdfium2  # type: ignore[import-untyped]
from PIL import Image

from evidence.media.draft import Draft, DraftFile, RefusalError
from evidence.media.limits import Limits
from evidence.media.outcome import Kind, RefusalReason, Role, SourceFormat
from evidence.media.pictures import QUALITY, check_size, save_jpeg, save_thumb, upright

UPRIGHT = 1  # a page is drawn the way it is meant to be read


def load(_found: SourceFormat, _source: BinaryIO) -> None:
    """Import all that reading a page may take, while anything can still be imported."""
    import_module("PIL.JpegImagePlugin")
    codecs.lookup("utf-16-le")


def clean_pages(source: BinaryIO, found: SourceFormat, turn: int, limits: Limits) -> Draft:
    """Write page-01.jpg, page-02.jpg ... and thumb.jpg (of the first page) where we work.

    Raises RefusalError, also for a PDF with more pages than are kept: none is dropped unsaid.
    """
    pdf = _open(source)
    if not 0 < len(pdf) <= limits.pages:
        empty = len(pdf) == 0
        reason = RefusalReason.EMPTY if empty else RefusalReason.TOO_MANY_PAGES
        raise RefusalError(reason, f"{len(pdf)} pages")
    files: list[DraftFile] = []
    for number in range(len(pdf)):
        picture = upright(_draw(pdf[number], limits), UPRIGHT, turn)
        if number == 0:
            files.append(save_thumb(picture, limits))
        files.append(save_jpeg(picture, Role.PAGE, f"page-{number + 1:02}.jpg", QUALITY))
    first = files[1]
    return Draft(Kind.PAGE, (*files[1:], files[0]), first.width, first.height)


def _open(source: BinaryIO) -> pypdfium2.PdfDocument:
    try:
        # From memory: reading from a file would take a callback, and that memory that can be run.
        return pypdfium2.PdfDocument(source.read())
    except pypdfium2.PdfiumError as error:
        locked = "password" in str(error).lower()
        reason = RefusalReason.LOCKED if locked else RefusalReason.UNREADABLE
        raise RefusalError(reason, "PDF will not open") from error


def _draw(page: pypdfium2.PdfPage, limits: Limits) -> Image.Image:
    """Draw *page* so that its longest side has the display's pixels, whatever size it claims."""
    width, height = page.get_size()
    check_size(round(width), round(height), limits.pixels, limits)
    bitmap = page.render(scale=limits.display_side / max(width, height))
    picture: Image.Image = bitmap.to_pil()
    return picture.convert("RGB")
