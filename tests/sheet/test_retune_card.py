from chalkfret.model import NoteNaming, Retune, SheetOptions
from chalkfret.model.start import STANDARD_SETUP, plain_setup
from chalkfret.sheet.display import Text
from chalkfret.sheet.layout import SheetRequest, cards_sheet, sheet
from chalkfret.sheet.retune_card import card_block
from chalkfret.sheet.style import style_of
from chalkfret.strings.turning import retune_card
from tests.builder import lesson, part, section
from tests.sheet.measurers import FLAT

LOW = plain_setup(["C2", "G2", "C3", "F3", "A3", "D4"])


def texts(pages):
    return [item.text for page in pages for _x, _y, item in page.items() if isinstance(item, Text)]


def retuning_lesson():
    return lesson(
        section("A", "q 6:0 0 0 0"),
        section("B", "q 6:0 0 0 0", retunes=(Retune("low", LOW),)),
        section("C", "q 6:0 0 0 0"),
        parts=(part("Low", STANDARD_SETUP),),
    )


def test_a_section_that_retunes_has_its_card_before_the_music_and_one_back():
    made = sheet(retuning_lesson(), SheetRequest(), FLAT)
    said = " ".join(texts([made.page(1)]))
    assert "Low, before section B" in said
    assert "Low, before section C" in said
    assert "4 semitones down, C2" not in said
    assert "4 semitones down, E2 to C2" in said
    assert "fret 7 of string 6 sounds as open string 5" in said


def test_one_section_alone_needs_no_card():
    made = lesson(section("A", "q 6:0"), parts=(part("Low", LOW),))
    assert "Retuning" not in texts([sheet(made, SheetRequest(), FLAT).page(1)])


def test_a_card_stays_within_its_width_in_large_print():
    style = style_of(SheetOptions(large_print=True))
    card = retune_card(STANDARD_SETUP, LOW)
    block = card_block("Low", card, NoteNaming.SOLFEGE, True, style, FLAT)
    for item in block.items:
        if isinstance(item, Text):
            assert item.x >= 0
            assert item.x + item.width <= style.text_width + 0.01
            assert item.y <= block.height


def test_cards_on_pages_of_their_own_lose_nothing():
    cards = tuple((f"Guitar {n}", retune_card(STANDARD_SETUP, LOW)) for n in range(9))
    made = cards_sheet(retuning_lesson(), cards, FLAT)
    said = texts([made.page(n) for n in range(1, made.page_count + 1)])
    assert made.page_count > 1
    assert [one for one in said if one.startswith("Guitar ")] == [name for name, _ in cards]
    assert sum(one == "String 6: 4 semitones down, E2 to C2" for one in said) == 9
