"""Every sheet as it comes out of the printer."""

import logging

import pytest
from django.utils import translation

from tasks.numberwork import DEPTHS, KINDS, how_many
from tasks.numberwork.pictures import HundredSquare, ScatteredDots
from tasks.numberwork.pictures.ink import NUMERAL, WIDEST
from tasks.printing import A4, LETTER, SHEETS, NothingToPrintError, make_pdf
from tasks.printing.layout.letters import loses_letters, printable
from tasks.printing.layout.pictures import LEAST_SIDE, least_width
from tests.square_codes import printed_codes
from tests.tasks.printing.builders import SEND, day, line, lines_of, order, part
from tests.tasks.printing.reading import (
    fonts,
    ink_box,
    page_words,
    picture,
    unembedded_fonts,
    words,
)

PAPERS = pytest.mark.parametrize("paper", [A4, LETTER], ids=lambda paper: paper.name)


def test_a_card_says_all_that_an_adult_needs():
    task = part(
        line("10 ÷ 2 = □", spoken="Ten shared equally into two groups."),
        title="Main task",
        words="Share the spoons.",
        fetch="two plates and ten spoons",
        say="Is it the same on both sides?",
        cautions=("Keep small things away from babies.",),
    )

    text = words(make_pdf(order("cards", days=(day(task, note="See you on Friday."),))))

    for said in (
        "Monday 23 November 2026",
        "Halving: two equal parts",
        "See you on Friday.",
        "Main task",
        "Share the spoons.",
        "two plates and ten spoons",
        "“Is it the same on both sides?”",
        "Keep small things away from babies.",
        "10 ÷ 2 =",
        "“Ten shared equally into two groups.”",
        "An adult stays close by.",
    ):
        assert said in text


@pytest.mark.parametrize(
    ("language", "marked"), [("pl", "„Ten”"), ("uk", "«Ten»"), ("cy", "‘Ten’"), ("en-gb", "“Ten”")]
)
def test_what_is_said_aloud_stands_in_the_marks_of_the_language(language: str, marked: str):
    # Source: Unicode CLDR, delimiters (from memory).
    task = part(line("8 ÷ 2 = □", spoken="Ten"))
    with translation.override(language):
        assert marked in words(make_pdf(order("cards", days=(day(task),))))


def test_a_card_does_not_give_the_answers_away():
    task = part(line("8 ÷ 2 = □", answer="the answer is four"), right="Both plates have four.")

    child = words(make_pdf(order("cards", "mat", "answers", days=(day(task),))))
    adult = words(make_pdf(order("right", days=(day(task),))))

    assert "the answer is four" not in child
    assert "Both plates" not in child
    assert "the answer is four" in adult
    assert "Both plates have four." in adult


def test_the_adults_slip_lies_behind_everything_else():
    sheets = SHEETS.keys() - {"two-sides"}  # which has the adult's beside the child's
    pages = page_words(make_pdf(order(*sheets, days=(day(), day()))))

    firsts = [number for number, text in enumerate(pages) if "For the adult" in text]

    assert len(firsts) == 2
    assert not any("Hundred square" in text or "Answers" in text for text in pages[firsts[0] :])


def test_the_answer_slip_has_every_prompt_the_help_given_and_a_place_to_send_it():
    made = day()

    pdf = make_pdf(order("answers", days=(made,)))

    text = words(pdf)
    for each in (prompt for task in made.parts for prompt in task.lines):
        assert each.sentence in text
    for said in ("all alone", "with a little help", "we did it together", "What you noticed"):
        assert said in text
    assert set(printed_codes(pdf)) == {SEND}


@pytest.mark.parametrize("sheet", SHEETS)
def test_no_name_is_printed_unless_it_is_given(sheet):
    named = words(make_pdf(order(sheet, name="Aisha")))
    unnamed = words(make_pdf(order(sheet)))

    assert "Aisha" in named
    assert "Aisha" not in unnamed
    assert "First name" not in named


def test_cutting_comes_with_a_caution_on_every_page():
    pages = page_words(make_pdf(order("number-cards", up_to=20)))

    assert len(pages) == 4
    assert all("Cut with an adult" in text for text in pages)


def test_number_cards_have_each_number_once():
    numerals, _dots = page_words(make_pdf(order("number-cards")))

    shown = [word for word in numerals.split() if word.isdecimal()]

    page = "1"
    assert sorted(shown) == sorted([*map(str, range(11)), page])


def test_the_mat_is_about_the_number_of_the_day():
    text = words(make_pdf(order("mat", days=(day(number=7),))))

    for said in ("Number of the day: 7", "Trace it", "Tally", "one more:", "one less:", "= 7"):
        assert said in text


def test_a_mat_about_nothing_has_no_one_less():
    assert "one less" not in words(make_pdf(order("mat", days=(day(number=0),))))


@pytest.mark.parametrize("number", range(21))
def test_there_is_a_mat_of_one_page_for_every_number_to_twenty(number):
    assert len(page_words(make_pdf(order("mat", days=(day(number=number),), paper=LETTER)))) == 1


def test_a_day_without_a_number_has_no_mat():
    with pytest.raises(NothingToPrintError):
        make_pdf(order("mat", days=(day(number=None),)))


def test_an_unknown_sheet_is_refused():
    with pytest.raises(ValueError, match="crossword"):
        make_pdf(order("crossword"))


@PAPERS
def test_everything_stays_off_the_edge_of_the_paper(paper):
    pdf = make_pdf(order(paper=paper, name="Aisha", up_to=20))

    for page in range(len(page_words(pdf))):
        left, top, right, bottom = ink_box(picture(pdf, page))
        assert min(left * paper.width, right * paper.width) > 12
        assert min(top * paper.height, bottom * paper.height) > 12


@pytest.mark.parametrize("depth", DEPTHS)
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_can_be_printed_on_the_shorter_paper(kind, depth):
    within = KINDS[kind].ranges[-1]
    count = min(4, how_many(kind, within, depth))
    lines = lines_of(kind, within, count, depth)

    pdf = make_pdf(order("cards", "answers", days=(day(part(*lines)),), paper=LETTER))

    for page in range(len(page_words(pdf))):
        left, top, right, bottom = ink_box(picture(pdf, page, scale=1.0))
        assert min(left, right) * LETTER.width > 12
        assert min(top, bottom) * LETTER.height > 12


def test_printing_says_nothing_in_the_logs(caplog):
    with caplog.at_level(logging.WARNING):
        make_pdf(order())

    assert not caplog.records


def test_one_square_code_leads_to_the_sending_page():
    assert printed_codes(make_pdf(order("cards"))) == [SEND]


def test_the_same_order_gives_the_same_file():
    assert make_pdf(order(name="Aisha")) == make_pdf(order(name="Aisha"))


def test_only_the_letters_that_children_read_are_used_and_all_are_in_the_file():
    pdf = make_pdf(order())

    assert not unembedded_fonts(pdf)
    assert {name.split("+")[1] for name in fonts(pdf)} == {"KitchenLetters", "KitchenLettersBold"}


def test_long_words_from_a_teacher_stay_on_the_paper():
    task = part(
        line("word " * 60),
        words="word " * 200,
        fetch="w" * 300,
        say="say " * 75,
        cautions=("care " * 60, "more " * 60),
    )

    pdf = make_pdf(order("cards", "answers", "right", days=(day(task, note="n" * 1000),)))

    for page in range(len(page_words(pdf))):
        left, top, right, bottom = ink_box(picture(pdf, page))
        assert min(left, right) > 12 / 210
        assert min(top, bottom) > 12 / 297


def test_letters_that_cannot_be_printed_are_owned_up_to():
    with_them = words(make_pdf(order("cards", days=(day(note="شكرا for the photos"),))))
    ornaments = words(make_pdf(order("cards", days=(day(note="Well done 👏, all!"),))))

    assert "letters that cannot be printed here" in with_them
    assert "for the photos" in with_them
    assert "cannot be printed" not in ornaments
    assert "Well done, all!" in ornaments


def test_a_name_that_cannot_be_printed_leaves_a_line_to_write_it_on():
    text = words(make_pdf(order("answers", name="علي")))

    assert "First name" in text


def test_accents_and_cyrillic_letters_are_printed():
    assert printable("Zoë, Łucja и Иван") == "Zoë, Łucja и Иван"
    assert not loses_letters("Zoë, Łucja и Иван")


def test_pictures_are_three_centimetres_or_more_and_their_numerals_large():
    assert least_width(ScatteredDots(3, 1)) >= LEAST_SIDE == 30
    assert least_width(HundredSquare()) * NUMERAL / WIDEST >= 5.9  # millimetres of a numeral
