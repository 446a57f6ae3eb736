"""Reads a PDF as a person with another program would: its words, its paper, what it looks like."""

import io

import pypdfium2
from PIL import Image
from pypdf import PdfReader

MILLIMETRE = 72 / 25.4  # points


def words(pdf: bytes) -> str:
    """Return all the text of a file, its white space evened out."""
    return " ".join(" ".join(page_words(pdf)).split())


def page_words(pdf: bytes) -> list[str]:
    """Return the text of each page."""
    pages = pypdfium2.PdfDocument(pdf)
    return [" ".join(page.get_textpage().get_text_bounded().split()) for page in pages]


def sizes(pdf: bytes) -> set[tuple[float, float]]:
    """Return the different sizes of the pages, in millimetres to a tenth."""
    return {
        (round(float(page.mediabox.width) / MILLIMETRE, 1),
         round(float(page.mediabox.height) / MILLIMETRE, 1))
        for page in PdfReader(io.BytesIO(pdf)).pages
    }  # fmt: skip


def picture(pdf: bytes, page: int = 0, scale: float = 2.0) -> Image.Image:
    """Draw one page in greys, at *scale* times 72 dots an inch."""
    return pypdfium2.PdfDocument(pdf)[page].render(scale=scale).to_pil().convert("L")


def unembedded_fonts(pdf: bytes) -> list[str]:
    """Return the names of fonts that the reader would have to bring along."""
    missing = []
    for page in PdfReader(io.BytesIO(pdf)).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            inner = font.get_object()
            for each in [part.get_object() for part in inner.get("/DescendantFonts", [inner])]:
                described = each.get("/FontDescriptor", {})
                if not {"/FontFile", "/FontFile2", "/FontFile3"} & set(described):
                    missing.append(str(each.get("/BaseFont")))
    return missing


def fonts(pdf: bytes) -> set[str]:
    """Return the names of the fonts on the pages."""
    return {
        str(font.get_object()["/BaseFont"])
        for page in PdfReader(io.BytesIO(pdf)).pages
        for font in page["/Resources"].get("/Font", {}).values()
    }


def ink_box(image: Image.Image) -> tuple[float, float, float, float]:
    """Return the share of a page left blank on the left, above, on the right and below."""
    left, top, right, bottom = image.point(lambda level: 255 if level < 250 else 0).getbbox()
    wide, high = image.size
    return left / wide, top / high, 1 - right / wide, 1 - bottom / high
