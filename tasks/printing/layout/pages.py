"""Pages of one PDF: a cursor going down, headings and feet that repeat, and lines of text."""

import datetime as dt
from collections.abc import Sequence

from django.utils.translation import get_language, get_language_bidi
from fpdf import FPDF
from fpdf.enums import TextDirection
from fpdf.prefs import ViewerPreferences

from tasks.printing.layout import letters
from tasks.printing.paper import MARGIN, Paper

POINT = 25.4 / 72  # millimetres
LEADING = 1.32  # from line to line, in sizes of the letters
HEAD = 9.0  # millimetres that the repeated heading takes
FOOT = 7.0
FAMILY, ARABIC = "letters", "letters-arabic"
BODY = 11.5  # points


def tall(size: float) -> float:
    """Return the height of a line of letters of *size* points, in millimetres."""
    return size * POINT * LEADING


class Pages:
    """A PDF in the making. Lengths are in millimetres, sizes of letters in points."""

    def __init__(self, paper: Paper, title: str, dated: dt.date) -> None:
        self.paper = paper
        self.language = get_language() or "en-GB"
        self.from_right = get_language_bidi()
        self.pdf = FPDF(unit="mm", format=(paper.width, paper.height))
        self.pdf.set_auto_page_break(False)
        self.pdf.set_margin(0)
        self.pdf.add_font(FAMILY, "", str(letters.REGULAR))
        self.pdf.add_font(FAMILY, "B", str(letters.BOLD))
        if self.from_right:
            self.pdf.add_font(ARABIC, "", str(letters.ARABIC_REGULAR))
            self.pdf.add_font(ARABIC, "B", str(letters.ARABIC_BOLD))
            self.pdf.set_fallback_fonts([ARABIC], exact_match=True)
            self.pdf.set_text_shaping(True)
            self.pdf.c_margin = 0
        self.pdf.set_title(title)
        self.pdf.set_lang(self.language)
        self.pdf.set_creation_date(dt.datetime.combine(dated, dt.time(), dt.UTC))
        # As large as it was drawn: three centimetres on the page are three on the paper.
        self.pdf.viewer_preferences = ViewerPreferences(
            print_scaling="None", display_doc_title=True
        )
        self.left, self.right = MARGIN, paper.width - MARGIN
        self.width = self.right - self.left
        self.top = MARGIN + HEAD
        self.bottom = paper.height - MARGIN - FOOT
        self.y = 0.0
        self._head = ("", "")
        self._widths: dict[tuple[str, bool], float] = {}  # of texts in letters of 1 point
        self._number = 0

    def begin(self, left: str, right: str = "") -> None:
        """Begin a run of pages that repeat the words *left* and *right* at the top, from page 1."""
        self._head, self._number = (left, right), 0

    def add(self) -> None:
        """Go to a new page."""
        self.pdf.add_page()
        self._number += 1
        left, right = self._head
        taken = self.measure(right, 9.5, bold=True) + 5
        left = next(iter(self.wrap(left, self.width - taken, 9.5)), "")
        self.text(self.left, MARGIN - 2, left, 9.5)
        self.text(self.right - self.measure(right, 9.5, bold=True), MARGIN - 2, right, 9.5, True)
        self.pdf.set_line_width(0.5)
        self.pdf.line(MARGIN, MARGIN + 4, self.paper.width - MARGIN, MARGIN + 4)
        shown = str(self._number)
        middle = (self.left + self.right - self.measure(shown, 9.5)) / 2
        self.text(middle, self.paper.height - MARGIN - 4, shown, 9.5)
        self.y = self.top

    @property
    def count(self) -> int:
        """Return how many pages there are by now."""
        return self.pdf.pages_count

    @property
    def room(self) -> float:
        """Return the height left on this page."""
        return self.bottom - self.y

    def need(self, height: float) -> None:
        """Go to a new page unless *height* is left on this one, or it is new itself."""
        if height > self.room and self.y > self.top:
            self.add()

    def place(self, x: float, width: float) -> float:
        """Give where something laid out at x really begins: pages from the right are mirrored."""
        return self.paper.width - x - width if self.from_right else x

    def measure(self, text: str, size: float, bold: bool = False) -> float:
        """Return the width of *text* on one line."""
        key = (text, bold)
        if key not in self._widths:
            self.pdf.set_font(FAMILY, "B" if bold else "", 10)
            plain = letters.without_marks(text)
            self._widths[key] = self.pdf.get_string_width(plain) / 10
        return self._widths[key] * size

    def text(self, x: float, y: float, text: str, size: float, bold: bool = False) -> None:
        """Write *text* on one line, the top of its letters at y."""
        if self.from_right and text:
            self._text_from_right(self.place(x, 0), y, text, size, bold)
        elif text:
            self.pdf.set_font(FAMILY, "B" if bold else "", size)
            self.pdf.text(x, y + size * POINT * 0.95, text)

    def _text_from_right(self, right: float, y: float, text: str, size: float, bold: bool) -> None:
        """Write *text* so that it ends at *right*; runs of numbers go from left to right."""
        only_numbers = not letters.runs_from_right(text)
        for piece, is_run in letters.pieces_of(text):
            width = self.measure(piece, size, bold)
            from_left = is_run or only_numbers
            direction = TextDirection.LTR if from_left else TextDirection.RTL
            self.pdf.set_text_shaping(True, direction=direction)
            self.pdf.set_font(FAMILY, "B" if bold else "", size)
            right -= width
            # A cell that begins with Arabic letters forgets after it which font and size it set
            # for the page; the next number would be in those before. A space sets them for good.
            self.pdf.text(right, y, " ")
            # A cell puts its letters a little lower than `text` does.
            self.pdf.set_xy(right, y + size * POINT * (0.95 - 0.8))
            self.pdf.cell(width, size * POINT, letters.without_marks(piece))

    def wrap(self, text: str, width: float, size: float, bold: bool = False) -> list[str]:
        """Break *text* into lines no wider than *width*; its own line breaks stay."""
        lines: list[str] = []
        for paragraph in text.splitlines():
            lines += self._wrapped(letters.words_of(paragraph), width, size, bold)
        return lines

    def _wrapped(self, words: Sequence[str], width: float, size: float, bold: bool) -> list[str]:
        lines, line = [], ""
        for word in words:
            longer = f"{line} {word}" if line else word
            if self.measure(longer, size, bold) <= width:
                line = longer
                continue
            lines += [line] if line else []
            while self.measure(word, size, bold) > width:
                fits = self._fitting(word, width, size, bold)
                lines.append(word[:fits])
                word = word[fits:]
            line = word
        return [*lines, line] if line else lines

    def _fitting(self, word: str, width: float, size: float, bold: bool) -> int:
        """Return how many letters of *word* go into *width*; at least one."""
        fits = 1
        while fits < len(word) and self.measure(word[: fits + 1], size, bold) <= width:
            fits += 1
        return fits

    def lines(
        self, x: float, y: float, lines: Sequence[str], size: float, bold: bool = False
    ) -> float:
        """Write *lines* one below the other from y, and give the y below the last."""
        for line in lines:
            self.text(x, y, line, size, bold)
            y += tall(size)
        return y

    def say(self, text: str, size: float = BODY, bold: bool = False, gap: float = 2) -> None:
        """Write *text* over the full width at the cursor, going over the page where it must."""
        for line in self.wrap(text, self.width, size, bold):
            self.need(tall(size))
            self.text(self.left, self.y, line, size, bold)
            self.y += tall(size)
        self.y += gap

    def finish(self) -> bytes:
        """Return the file."""
        return bytes(self.pdf.output())
