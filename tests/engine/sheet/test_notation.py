"""The notation of groups: text to values and back, and a cure for every slip."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sheets_made import line_texts

from engine.sheet.notation import (
    DRAGON,
    RANK,
    SUIT,
    WIND,
    Dragon,
    DragonOf,
    EachDragon,
    EachWind,
    Flower,
    Number,
    Pattern,
    Season,
    Wind,
    Zero,
    write_groups,
)
from engine.sheet.parsing import NotationError, parse_group, parse_groups, split

READ = [
    ("single a.n", Pattern(1, Number("a", "n", 0))),
    ("pair b.x+8", Pattern(2, Number("b", "x", 8))),
    ("pung c.z-1", Pattern(3, Number("c", "z", -1))),
    ("kong bam.5", Pattern(4, Number("bam", None, 5))),
    ("quint crak.n", Pattern(5, Number("crak", "n", 0))),
    ("sextet dot.9", Pattern(6, Number("dot", None, 9))),
    ("pair flower", Pattern(2, Flower())),
    ("pair zero", Pattern(2, Zero())),
    ("pung wind east", Pattern(3, Wind("east"))),
    ("pung wind u", Pattern(3, Wind("u"))),
    ("pung dragon red", Pattern(3, Dragon("red"))),
    ("pung dragon v", Pattern(3, Dragon("v"))),
    ("pung dragon of a", Pattern(3, DragonOf("a"))),
    ("pung dragon of bam", Pattern(3, DragonOf("bam"))),
    ("single each wind", Pattern(1, EachWind())),
    ("pair each dragon", Pattern(2, EachDragon())),
    ("single season a", Pattern(1, Season("a"))),
]


@pytest.mark.parametrize(("text", "pattern"), READ)
def test_groups_read_and_write(text: str, pattern: Pattern) -> None:
    """Every form of the notation is read to its value and written as it was."""
    assert parse_group(text) == pattern
    assert str(pattern) == text


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("  PAIR   Flower ", "pair flower"),
        ("Kong A.N+1", "kong a.n+1"),
        ("pung\tdragon\nof b", "pung dragon of b"),
        ("kong a.n+0", "kong a.n"),
    ],
)
def test_case_and_spaces_do_not_matter(text: str, plain: str) -> None:
    """Capitals, tabs, line ends and extra spaces are read as the plain form."""
    assert str(parse_group(text)) == plain


@given(line_texts())
@pytest.mark.slow
def test_lines_round_trip(text: str) -> None:
    """A line of groups is written back as it was read."""
    parsed = parse_groups(text)
    assert parsed.errors == ()
    assert write_groups(parsed.patterns) == text
    for pattern, offset in zip(parsed.patterns, parsed.offsets, strict=True):
        assert text.startswith(str(pattern), offset)


SLIPS = [
    # text, the word at fault, what the message says to write
    ("flower", "flower", "a size is missing"),
    ("paar flower", "paar", "write pair"),
    ("3 flower", "3", "write pung"),
    ("7 flower", "7", "write single, pair"),
    ("xyz flower", "xyz", "write single, pair"),
    ("a.n", "a.n", "as in pair a.n"),
    ("pair", "pair", "has no tile"),
    ("pair flowers", "flowers", "write flower"),
    ("pair flower flower", "flower", "one word too many"),
    ("pung dragon of a white", "white", "one word too many"),
    ("pair flower kong a.n", "kong", "put a comma before it"),
    ("pair joker", "joker", "jokers are never written"),
    ("pair 5b", "5b", "write bam.5"),
    ("pair 9d", "9d", "write dot.9"),
    ("pair bam 5", "bam", "as in bam.5"),
    ("pair 5 dot", "5", "write dot.5"),
    ("pair a 5", "a", "as in a.5"),
    ("pair east", "east", "write wind east"),
    ("pair red", "red", "write dragon red"),
    ("pair of a", "of", "write dragon of a"),
    ("pair a.0", "0", "write zero"),
    ("pair a.10", "10", "write 1 to 9"),
    ("pair a.", "", "is no number"),
    ("pair .5", ".5", "a suit is missing"),
    ("pair d.5", "d", "a, b or c for any suit"),
    ("pair bamm.5", "bamm", "write bam"),
    ("pair a.nn", "nn", "is no number"),
    ("pair a.b", "b", "always stands for a suit"),
    ("pair a.n+9", "+9", "write at most +8"),
    ("pair a.n-12", "-12", "write at most -8"),
    ("pair a.n+", "n+", "is no number"),
    ("pair a.n + 1", "+", "without spaces"),
    ("pair wind", "wind", "needs a name"),
    ("pair wind up", "up", "write east, south, west or north"),
    ("pair wind nort", "nort", "write north"),
    ("pair wind b", "b", "always stands for a suit"),
    ("pair dragon", "dragon", "needs a name"),
    ("pair dragon blue", "blue", "green, red or white"),
    ("pair dragon a", "a", "write dragon of a"),
    ("pair dragon of", "of", "needs a suit"),
    ("pair dragon of d", "d", "a, b or c for any suit"),
    ("pair each", "each", "write wind or dragon"),
    ("pair each flower", "flower", "write wind or dragon"),
    ("pair season", "season", "needs a suit"),
    ("pair season 2026", "2026", "a, b or c for any suit"),
    ("pair ?", "?", "is no tile"),
    ("", "", "a group is missing"),
]


@pytest.mark.parametrize(("text", "word", "cure"), SLIPS)
def test_slips_are_placed_and_cured(text: str, word: str, cure: str) -> None:
    """A slip is reported at its word, with what to write instead."""
    with pytest.raises(NotationError) as caught:
        parse_group(text)
    assert cure in str(caught.value)
    offset = caught.value.offset
    assert text[offset:].lower().startswith(word)
    assert 0 <= offset <= len(text)


def test_all_slips_of_a_line_are_reported() -> None:
    """One bad group does not hide the next; the good ones are still read."""
    text = "paar flower, kong a.n, , pung d.5"
    parsed = parse_groups(text)
    assert [error.offset for error in parsed.errors] == [text.index("paar"), text.index(", ,") + 0, text.index("d.5")]
    assert write_groups(parsed.patterns) == "kong a.n"


def test_too_many_groups() -> None:
    """Fifteen groups can be no hand; the first one too many is pointed at."""
    text = ", ".join(["single a.1"] * 15)
    parsed = parse_groups(text)
    assert [error.offset for error in parsed.errors] == [text.rindex("single")]


@given(st.text(max_size=30))
@pytest.mark.slow
def test_any_text_is_read_or_refused(text: str) -> None:
    """Whatever is typed, the outcome is patterns or errors inside the text."""
    parsed = parse_groups(text)
    assert parsed.patterns or parsed.errors
    assert all(0 <= error.offset <= len(text) and str(error) for error in parsed.errors)


def test_letters_know_their_use() -> None:
    """Suits, numbers, winds and dragons are told apart by where a letter stands."""
    uses = {
        pair
        for pattern in parse_groups("pair a.n, pung wind u, kong dragon v, pung dragon of b, single season c").patterns
        for pair in pattern.letters
    }
    assert uses == {("a", SUIT), ("n", RANK), ("u", WIND), ("v", DRAGON), ("b", SUIT), ("c", SUIT)}
    assert parse_group("pair bam.5").letters == ()


def test_groups_that_stand_for_several() -> None:
    """`each` and `season` stand for as many groups as there are winds, dragons or digits."""
    assert parse_group("single each wind").groups("2026") == 4
    assert parse_group("single each dragon").groups("2026") == 3
    assert parse_group("single season a").groups("2026") == 4
    assert parse_group("single season a").groups("77") == 2
    assert parse_group("pung flower").groups("2026") == 1


def test_split_says_where_parts_begin() -> None:
    """Parts come stripped, with their offsets; an empty part is placed at the separator before it."""
    assert list(split("ab,  c ,,d", ",")) == [(0, "ab"), (5, "c"), (7, ""), (9, "d")]
