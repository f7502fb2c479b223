"""Variants: the search against the slow enumerator, counts worked by hand, and what the set can supply."""

from __future__ import annotations

from math import comb, perm

import pytest
from depth import deep
from hypothesis import assume, given, settings
from sheets_made import MadeHand, hands
from slow_variants import slow_variants

from engine.sheet.clauses import parse_where
from engine.sheet.groups import HAND_TILES, Group, Variant
from engine.sheet.model import Line
from engine.sheet.notation import write_groups
from engine.sheet.parsing import parse_groups
from engine.sheet.shelf import find, shipped
from engine.sheet.variants import StepsLeft, TooManyWaysError, expand, ranks_allowed, why_none
from engine.tiles import COPIES, FLOWER, JOKER, code, kind_of


def line(text: str) -> Line:
    parsed = parse_groups(text)
    assert parsed.errors == ()
    return Line(parsed.patterns, write_groups(parsed.patterns))


def made(*lines: str, where: str = "", season: str = "2026", jokers: int = 8) -> tuple[Variant, ...]:
    """The engine's variants of a hand."""
    clauses = parse_where(where).clauses if where else ()
    return expand([line(text) for text in lines], clauses, season, jokers)


def keys(variants: tuple[Variant, ...]) -> set[tuple[tuple[int, str], ...]]:
    """The engine's variants in the form of the slow enumerator."""
    return {tuple(sorted((group.size, code(group.kind)) for group in variant.groups)) for variant in variants}


WORKED = [
    # groups, clauses, and the count with how it comes about
    ("sextet wind east, quint flower, pung dragon red", "", 1),  # nothing varies
    ("kong a.5, kong b.5, sextet c.5", "", 3),  # the sextet's suit; the kongs are alike
    ("kong a.5, kong b.6, sextet c.7", "", perm(3, 3)),  # suits in any order
    ("pair a.n, quint a.n+1, single a.n+2, kong a.n+3, pair a.n+4", "", 5 * 3),  # n = 1 to 5, three suits
    ("quint a.n, pung a.n+2, sextet a.n+4", "n odd", 3 * 3),  # n = 1, 3 or 5
    ("quint a.n, pung a.n+2, sextet a.n+4", "n even", 2 * 3),  # n = 2 or 4
    ("quint a.n-1, pung a.n, sextet a.n+1", "n in 2..4", 3 * 3),
    ("quint a.n-1, pung a.n, sextet a.n+1", "n in 1 2 9", 1 * 3),  # only 2 keeps all numbers within 1 to 9
    ("quint wind u, quint wind v, kong flower", "u != v", comb(4, 2)),
    ("quint wind u, pung wind v, sextet flower", "u != v", perm(4, 2)),
    (
        "quint wind u, quint wind v, kong dragon red",
        "",
        comb(4, 2) + 4,
    ),  # alike too, ten of one wind, six of them jokers
    ("quint wind u, kong dragon v, quint flower", "", 4 * 3),
    ("quint dragon of a, quint dragon of b, kong flower", "", comb(3, 2)),
    ("single each wind, sextet flower, kong dragon red", "", 1),
    ("pung each dragon, quint flower", "", 1),
    ("quint a.x, quint b.y, kong flower", "", comb(3, 2) * 9 * 9),  # two suits, a number in each
    ("sextet a.x, kong a.y, kong a.z", "x < y; y < z", 3 * comb(9, 3)),
    ("sextet a.x, kong a.y, kong a.z", "x != y; x != z; y != z", 3 * 9 * comb(8, 2)),  # the kongs are alike
    ("quint a.x, quint b.y, kong c.z", "x + y = z", 3 * comb(9, 2)),  # 36 sums up to 9; swapping the quints is the same
    (
        "sextet a.x, kong b.y, kong a.z",
        "x * y = z",
        6 * (9 + 4 + 3 + 2 + 5),
    ),  # products up to 9 by x = 1, 2, 3, 4, 5..9
    ("pung a.x, pung a.y, sextet b.z, pair flower", "x + y = z; x < y", 6 * 16),  # 1+2..8, 2+3..7, 3+4..6, 4+5: 7+5+3+1
    ("single season a, quint b.n, quint c.n", "n in 2 6", 3 * 2),  # the season's suit, and n
    ("single season a, single season b, sextet dragon red", "", comb(3, 2)),
    ("sextet bam.n, quint a.n, pung flower", "", 9 * 3),  # a may be bam too: ten alike, six of them jokers
]


@pytest.mark.parametrize(("text", "where", "count"), WORKED)
def test_counts_worked_by_hand(text: str, where: str, count: int) -> None:
    """The variants of a hand are as many as arithmetic says."""
    assert len(made(text, where=where)) == count


@pytest.mark.parametrize(("text", "where", "count"), WORKED)
def test_slow_enumerator_counts_the_same(text: str, where: str, count: int) -> None:
    """The reference itself agrees with the counts worked by hand."""
    assert len(slow_variants([text], where)) == count


@settings(max_examples=deep(60, 150), deadline=None)
@given(hands())
@pytest.mark.slow
def test_search_finds_what_the_slow_enumerator_finds(hand: MadeHand) -> None:
    """Any hand has the variants that trying everything gives."""
    try:
        parsed = parse_where(hand.where) if hand.where else None
        assume(parsed is None or not parsed.errors)  # such as a letter compared with itself
        clauses = parsed.clauses if parsed is not None else ()
        found = expand([line(text) for text in hand.lines], clauses, "2026", work=StepsLeft(2_000_000))
    except TooManyWaysError:
        return
    assert keys(found) == slow_variants(hand.lines, hand.where)
    assert len(keys(found)) == len(found)


@pytest.mark.parametrize("stem", shipped())
@pytest.mark.slow
def test_shipped_sheets_against_the_slow_enumerator(stem: str) -> None:
    """Every hand of every shipped sheet has exactly the variants of the slow enumerator."""
    sheet = find(stem)
    wrong = []
    for hand in sheet.hands:
        slow = slow_variants([one.text for one in hand.lines], hand.where_text, sheet.season)
        fast = keys(hand.variants)
        if fast != slow:
            wrong.append(f"{hand.name}: {len(fast)} found, {len(slow)} wanted")
            wrong += [f"  missing {key}" for key in sorted(slow - fast)[:5]]
            wrong += [f"  too many {key}" for key in sorted(fast - slow)[:5]]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("stem", shipped())
def test_every_variant_has_fourteen_tiles(stem: str) -> None:
    """A variant's groups, its real and loose tiles, and its total all come to fourteen."""
    for hand in find(stem).hands:
        for variant in hand.variants:
            assert sum(group.size for group in variant.groups) == HAND_TILES
            assert sum(variant.total) == sum(variant.real) + sum(variant.loose) == HAND_TILES
            assert variant.suppliable(8)


def test_groups_keep_the_order_of_the_sheet() -> None:
    """A variant shows its groups as the sheet writes them, whatever their size or tile."""
    (only,) = made("pung wind north, pair flower, kong bam.9, quint crak.1")
    assert [(group.size, code(group.kind)) for group in only.groups] == [(3, "wn"), (2, "fl"), (4, "9b"), (5, "1c")]


def test_two_assignments_of_the_same_groups_are_one_variant() -> None:
    """Quints of two free numbers in one suit are counted without regard to order."""
    assert len(made("quint a.x, quint a.y, kong flower", where="x != y")) == 3 * comb(9, 2)


def test_alternatives_that_make_the_same_groups_are_one_variant() -> None:
    """What two alternatives both allow is counted once, in the order of the first."""
    assert len(made("quint a.n, quint b.n, kong flower", "quint a.5, quint b.5, kong flower")) == 27


def test_where_letter_needs_one_value_only() -> None:
    """A letter of another alternative stands for some value, and makes no variants of its own."""
    lines = ("quint a.x, quint b.x, kong flower", "quint a.x, quint b.z, kong flower")
    first = expand([line(lines[0])], parse_where("x + 7 = z").clauses, "2026")
    assert len(first) == 2 * comb(3, 2)  # x = 1 or 2, since z ends at 9
    assert keys(made(*lines, where="x + 7 = z")) == slow_variants(lines, "x + 7 = z")


@pytest.mark.parametrize(
    ("groups", "jokers", "there"),
    [
        ([(2, "5d"), (2, "5d"), (4, "we"), (6, "fl")], 0, True),
        ([(2, "5d"), (2, "5d"), (1, "5d"), (4, "we"), (5, "fl")], 10, False),  # five real tiles of one kind
        ([(4, "5d"), (4, "5d"), (6, "fl")], 3, False),
        ([(4, "5d"), (4, "5d"), (6, "fl")], 4, True),
        ([(2, "5d"), (6, "5d"), (6, "fl")], 4, True),
        ([(2, "5d"), (6, "5d"), (6, "fl")], 3, False),
        ([(6, "fl"), (2, "fl"), (6, "5d")], 2, True),
        ([(6, "fl"), (3, "fl"), (5, "5d")], 1, False),
        ([(1, "fl")] * 9 + [(5, "5d")], 10, False),  # nine real flowers
        ([(4, "5d"), (4, "5d"), (6, "5d")], 9, False),
        ([(4, "5d"), (4, "5d"), (6, "5d")], 10, True),
    ],
)
def test_supply(groups: list[tuple[int, str]], jokers: int, there: bool) -> None:
    """Singles and pairs need real tiles; the larger groups take jokers for what the set has not."""
    variant = Variant(tuple(Group(size, kind_of(text)) for size, text in groups))
    assert variant.suppliable(jokers) is there


def test_fewer_jokers_leave_fewer_variants() -> None:
    """With no joker in the set, only groups of four real tiles are left, flowers apart."""
    assert made("quint a.n, quint b.n, kong flower", jokers=0) == ()
    assert len(made("kong a.n, pair b.n, pair c.n, sextet flower", jokers=0)) == 9 * 3


@pytest.mark.slow
def test_work_runs_out() -> None:
    """A hand of endless choice is given up, not waited for."""
    with pytest.raises(TooManyWaysError, match="too many ways"):
        made(", ".join(f"single a.{letter}" for letter in "defghijklmnopq"))


def test_letters_bound_by_clauses_are_tried_first() -> None:
    """A clause that can't hold ends the trying at once, however many free letters the groups begin with."""
    text = "single a.n, single a.m, single a.o, single b.p, single b.q, single b.r, kong c.y, kong c.z"
    assert expand([line(text)], parse_where("z + y = 99").clauses, "2026", work=StepsLeft(1_000)) == ()


@pytest.mark.parametrize(
    ("text", "where", "reason"),
    [
        ("kong a.n, kong a.n+5, sextet a.n+8", "n even", "no value of n"),
        ("kong a.x, kong a.y, sextet a.z", "x < y; y < x", "no choice of letters"),
        ("pair bam.5, pair bam.5, pair bam.5, kong flower, kong flower", "", "take 6 tiles 5 bam and the set holds 4"),
        ("sextet dragon red, quint dragon red, pung dragon red", "", "more than the 8 jokers"),
    ],
)
def test_why_a_hand_has_no_variant(text: str, where: str, reason: str) -> None:
    """A hand that can't be made says what stands in its way."""
    clauses = parse_where(where).clauses if where else ()
    assert expand([line(text)], clauses, "2026") == ()
    assert reason in why_none([line(text)], clauses, "2026")


def test_ranks_allowed() -> None:
    """A number letter's values follow from its offsets and from the clauses about it alone."""
    patterns = parse_groups("quint a.n-1, quint b.n+2, kong flower").patterns
    assert ranks_allowed(patterns, (), "n") == (2, 3, 4, 5, 6, 7)
    assert ranks_allowed(patterns, parse_where("n odd; n < m").clauses, "n") == (3, 5, 7)


def test_copies_that_supply_rests_on() -> None:
    """The set's own numbers: four of a kind, eight flowers, eight jokers (common practice, no source)."""
    assert set(COPIES[:FLOWER]) == {4}
    assert (COPIES[FLOWER], COPIES[JOKER]) == (8, 8)


def test_every_try_of_a_hidden_letter_counts() -> None:
    """Counted by hand for `x + 7 = z` with z in the clause only: 9 values of x; for each the values of z that are tried
    until one fits, with one clause judged each (8, 9, and seven times 9, twice); twice 6 ways to choose the suits; and
    3 steps for each of the 6 variants. So 9 + 160 + 12 + 18 steps are enough, and one fewer is not."""
    text, where = "kong a.x, kong b.x, sextet flower", parse_where("x + 7 = z").clauses
    assert len(expand([line(text)], where, "2026", work=StepsLeft(199))) == 6
    with pytest.raises(TooManyWaysError):
        expand([line(text)], where, "2026", work=StepsLeft(198))
