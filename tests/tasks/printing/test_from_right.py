"""Prints in the reader's language: right to left with joined letters, and letters with marks."""

import datetime as dt
import io
from unicodedata import bidirectional

import pytest
from django.utils import translation
from fontTools.ttLib import TTFont
from pypdf import PdfReader

from tasks.numberwork import make_prompts
from tasks.printing import A4, Order, make_pdf
from tasks.printing.layout.letters import (
    ARABIC_BOLD,
    ARABIC_REGULAR,
    BOLD,
    REGULAR,
    loses_letters,
    pieces_of,
    runs_from_right,
    words_of,
)
from tasks.printing.layout.pages import Pages
from tasks.printing.layout.sentences import lay, size_for, write
from tasks.printing.values import Day, Line, Pack, Part

MONDAY = dt.date(2026, 11, 23)
# Source: the alphabets of these languages (Unicode CLDR, exemplar characters).
ALPHABETS = {
    "cy": "abcdefghijlmnoprstuwyâêîôûŵŷ",
    "pl": "aąbcćdeęfghijklłmnńoóprsśtuwyzźż„”",
    "ro": "aăâbcdefghiîjklmnoprsștțuvxz„”«»",
    "uk": "абвгґдеєжзиіїйклмнопрстуфхцчшщьюя’ʼ«»",
    "ur": "ابپتٹثجچحخدڈذرڑزژسشصضطظعغفقکگلمنںوہھءیےۓۂآئؤ،؛؟۔ًٌٍَُِّْٰ",
    "ar": "ابتثجحخدذرزسشصضطظعغفقكلمنهويىةءأإآؤئ،؛؟ًٌٍَُِّْٰ",
}


def card(sentence: str = "7: فردي أم زوجي؟ □", choices: tuple[str, ...] = ()) -> bytes:
    """Print a card, slip and answers with a few words of Arabic."""
    picture = make_prompts("doubling", 10, 1, 1, depth="with support")[0].picture
    lines = (
        Line("5 + 3 = □", "خمسة وثلاثة", "8", (), 1, picture),
        Line(sentence, "سبعة", "فردي", choices),
    )
    part = Part("المهمة", "افعلوا هذه", "ملاعق", "كم هنا؟", "يعدّ الطفل", ("خطر",), lines, True)
    day = Day(MONDAY, "الإثنين", "التنصيف", "", (part,), "https://portal.example/1")
    sheets = frozenset(("cards", "answers", "right"))
    return make_pdf(Order((Pack((day,), "", ""),), sheets, MONDAY, A4))


@pytest.mark.parametrize("language", ALPHABETS)
def test_every_letter_of_each_language_can_be_printed(language: str):
    with translation.override(language):
        alphabet = ALPHABETS[language]
        assert not loses_letters(alphabet + alphabet.upper())


@pytest.mark.parametrize(
    ("plain", "cut"),
    [(ARABIC_REGULAR, 60_000), (ARABIC_BOLD, 60_000), (REGULAR, 100_000), (BOLD, 100_000)],
)
def test_the_letters_for_paper_are_small(plain, cut: int):
    assert plain.stat().st_size < cut


def test_letters_join_as_they_are_written():
    """Source: Unicode 16, chapter 9.2: an Arabic letter has a form of its own inside a word."""
    font = TTFont(ARABIC_REGULAR)
    tags = {record.FeatureTag for record in font["GSUB"].table.FeatureList.FeatureRecord}
    assert {"init", "medi", "fina", "rlig"} <= tags
    with translation.override("ar"):
        pages = Pages(A4, "", MONDAY)
        pages.add()
        apart = sum(pages.measure(letter, 12) for letter in "كلمة")
        assert pages.measure("كلمة", 12) < 0.95 * apart


def test_a_page_from_right_to_left_begins_on_the_right():
    starts: dict[str, float] = {}
    with translation.override("ar"):
        pages = Pages(A4, "", MONDAY)
        pages.add()
        pages.say("ABC")
        reader = PdfReader(io.BytesIO(pages.finish()))

    def note(text, _cm, matrix, _font, _size):
        starts.setdefault(text.strip(), matrix[4])

    reader.pages[0].extract_text(visitor_text=note)
    assert reader.root_object["/Lang"] == "ar"
    assert starts["ABC"] > 0.8 * A4.width / 25.4 * 72


def test_number_sentences_are_drawn_from_left_to_right():
    with translation.override("ar"):
        texts = [page.extract_text() for page in PdfReader(io.BytesIO(card())).pages]
    assert any("5 + 3 =" in text for text in texts)


def test_numbers_with_arabic_commas_alone_are_drawn_from_left_to_right():
    """Source: Unicode Standard Annex 9: the Arabic comma is a separator of numbers (class CS)."""
    assert bidirectional("\u060c") == "CS"
    assert not runs_from_right("\u20668\u060c 10\u060c \u25a1\u2069")
    assert runs_from_right("\u0646\u0639\u062f\u0651\u060c 8")


def test_a_number_among_words_is_as_large_as_they_are():
    sizes: dict[str, float] = {}
    with translation.override("ar"):
        pages = Pages(A4, "", MONDAY)
        pages.add()
        write(pages, lay(pages, "أكثر من 7 بواحد هو □", 1, 150), 20, 60, 150)
        reader = PdfReader(io.BytesIO(pages.finish()))

    def note(text, _cm, _matrix, _font, size):
        sizes.setdefault(text.strip(), size)

    reader.pages[0].extract_text(visitor_text=note)
    assert sizes["7"] == size_for("أكثر من 7 بواحد هو □")


def test_a_run_of_numbers_is_one_word_and_never_broken():
    with translation.override("ar"):
        words = words_of("الأصغر أولا: \u20667, 3, 5 → □\u2069")
    assert words[-1] == "\u20667, 3, 5 → □\u2069"
    assert pieces_of(words[-1]) == [("7, 3, 5 → □", True)]


def test_pages_from_left_to_right_are_not_touched():
    pages = Pages(A4, "", MONDAY)
    assert not pages.from_right
    assert pages.place(20, 30) == 20
