"""Reads square codes as a phone does: off a picture, off paper, off a terminal."""

import pypdfium2
import zxingcpp
from PIL import Image

TOP, BOTTOM = "█▀", "█▄"  # letters of the code that are light above, and below
POINTS = 72  # in an inch


def codes_in(picture: Image.Image) -> list[str]:
    """Return what each square code in *picture* says, in order."""
    return sorted(code.text for code in zxingcpp.read_barcodes(picture))


def printed_codes(pdf: bytes, dots: int = 150) -> list[str]:
    """Return what each code on every page of *pdf* says, printed at *dots* an inch."""
    pages = [page.render(scale=dots / POINTS).to_pil() for page in pypdfium2.PdfDocument(pdf)]
    return sorted(text for page in pages for text in codes_in(page.convert("L")))


def code_in_terminal(said: str) -> str:
    """Return what the one code drawn in letters in *said* says."""
    lines = [line for line in said.splitlines() if line and set(line) <= set("█▀▄ ")]
    halves = [[letter in half for letter in line] for line in lines for half in (TOP, BOTTOM)]
    picture = Image.new("L", (len(lines[0]), len(halves)))
    picture.putdata([255 * light for row in halves for light in row])
    larger = (8 * picture.width, 8 * picture.height)
    (text,) = codes_in(picture.resize(larger, Image.Resampling.NEAREST))
    return text
