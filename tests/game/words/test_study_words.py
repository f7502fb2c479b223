"""What a teacher says about a sheet: every sentence's claim, read back from its words and counted slowly."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest
from counted_slowly import Groups, Slow, ranks_of, slow_sheet
from random_sheets import random_sheet

from engine.sheet.model import Sheet
from engine.sheet.reader import read
from engine.sheet.shelf import find, shipped
from engine.sheet.study import remarks as said
from engine.sheet.study.counts import Study
from engine.sheet.study.remarks import Remark, remarks
from engine.tiles import CODES, NAMES
from engine.words import in_words
from game.words.study import FEW, report, sentence_of, sentences

SHEETS = (*shipped(), *range(100, 112))


@cache
def sheet_called(name: str | int) -> Sheet:
    return find(name) if isinstance(name, str) else random_sheet(name, 6)


@cache
def slow_called(name: str | int) -> list[Slow]:
    return slow_sheet(sheet_called(name))


@cache
def remarks_on(name: str | int) -> tuple[Remark, ...]:
    """Everything that is said of a sheet."""
    sheet = sheet_called(name)
    return tuple(remarks(Study.of(sheet, {hand.name: 1.0 + place % 5 for place, hand in enumerate(sheet.hands)})))


def all_said(kind: type[Remark]) -> list[tuple[str | int, Remark]]:
    """Every remark of a kind on the sheets of these tests."""
    found = [(name, remark) for name in SHEETS for remark in remarks_on(name) if isinstance(remark, kind)]
    assert found, f"no sheet of these tests brings up {kind.__name__}"
    return found


def figures(sentence: str) -> list[int]:
    """The whole numbers of a sentence, in the order said, those in words too."""
    words = {in_words(number): number for number in range(1, 15)}
    found = re.findall(r"\d[\d,]*|" + "|".join(rf"\b{word}\b" for word in words), sentence)
    return [words[one] if one in words else int(one.replace(",", "")) for one in found]


@dataclass(frozen=True)
class Case:
    """A remark on a sheet, its sentence, and the sheet counted slowly."""

    remark: Remark
    sentence: str
    slow: list[Slow]
    sheet: Sheet


def each_claim(kind: type[Remark], claim: Callable[[Case], None]) -> None:
    """Judge every remark of a kind with its sentence, the slow count of its sheet and the sheet."""
    for name, remark in all_said(kind):
        sentence = sentence_of(remark)
        assert sentence[0] == sentence[0].upper()
        assert sentence.endswith(".")
        claim(Case(remark, sentence, slow_called(name), sheet_called(name)))


def by_rank(slow: list[Slow]) -> dict[str, int]:
    return {str(rank): sum(str(rank) in one.ranks for one in slow) for rank in range(1, 10)}


def sections(hands: list[Slow]) -> int:
    return len({one.hand.section for one in hands})


@pytest.mark.slow
def test_most_wanted() -> None:
    """`5 is wanted in 11 hands of 4 sections, more than any other number`."""

    def claim(case: Case) -> None:
        rank, hands, parts = figures(case.sentence)
        count = by_rank(case.slow)
        assert count[str(rank)] == hands
        assert all(other < hands for key, other in count.items() if key != str(rank))
        assert parts == sections([one for one in case.slow if str(rank) in one.ranks])

    each_claim(said.MostWanted, claim)


@pytest.mark.slow
def test_sums_press() -> None:
    """`9 is wanted in 44 hands of 10 sections; in the sums it comes four at a time`: a hand with a sum can't be made
    without it and takes so many of it, and no such hand takes more."""

    def claim(case: Case) -> None:
        rank, hands, parts, size = figures(case.sentence)
        wanting = [one for one in case.slow if str(rank) in one.ranks]
        assert (len(wanting), sections(wanting)) == (hands, parts)
        sums = [one for one in case.slow if " = " in one.hand.where_text]
        must = [one for one in sums if all(str(rank) in ranks_of(groups) for groups in one.variants)]
        largest = [count for one in must for groups in one.variants for count, code in groups if code[0] == str(rank)]
        assert max(largest) == size >= 4

    each_claim(said.SumsPress, claim)


@pytest.mark.slow
def test_season_press() -> None:
    """`The season has two 2s, which 1 hand needs; 10 others in 4 sections want 2 too`."""

    def claim(case: Case) -> None:
        assert isinstance(case.remark, said.SeasonPress)
        digit = str(case.remark.digit)
        assert case.sheet.season.count(digit) == case.remark.times
        assert (f"{in_words(case.remark.times)} " in case.sentence) == (case.remark.times > 1)
        inside = [one for one in case.slow if all("season" in line.text for line in one.hand.lines)]
        outside = [
            one
            for one in case.slow
            if one not in inside and (digit in one.ranks or (digit == "0" and "dw" in one.codes))
        ]
        wanted = [len(inside), *([len(outside), sections(outside)] if outside else [])]
        rest = case.sentence.split("which", 1)[1]
        assert figures(rest)[: len(wanted)] == wanted

    each_claim(said.SeasonPress, claim)


@pytest.mark.slow
def test_least_wanted() -> None:
    """`9 is the number that fewest hands want: 44`; and nothing on the sheet presses on it."""

    def claim(case: Case) -> None:
        rank, hands = figures(case.sentence)
        count = by_rank(case.slow)
        assert count[str(rank)] == hands
        assert all(other > hands for key, other in count.items() if key != str(rank))
        assert str(rank) not in case.sheet.season

    each_claim(said.LeastWanted, claim)


@pytest.mark.slow
def test_mid_run() -> None:
    """`5 stands in 282 of the 462 ways to make a run of three or more, more than any other number`."""

    def claim(case: Case) -> None:
        rank, variants, of = figures(case.sentence)[:3]
        ways = [{int(rank) for rank in ranks_of(groups)} for one in case.slow for groups in one.variants]
        runs = [{r for low in way if {low + 1, low + 2} <= way for r in (low, low + 1, low + 2)} for way in ways]
        count = Counter(rank for run in runs for rank in run)
        assert (count[rank], sum(map(bool, runs))) == (variants, of)
        assert all(other < variants for key, other in count.items() if key != rank)

    each_claim(said.MidRun, claim)


@pytest.mark.slow
def test_flowers_wanted() -> None:
    """`Flowers are wanted in 7 of 12 hands, most often as a pair: 4. No joker stands in for those`."""

    def claim(case: Case) -> None:
        hands, of, most = figures(case.sentence)
        count = Counter(
            size for one in case.slow for size in {s for way in one.variants for s, code in way if code == "fl"}
        )
        assert (hands, of) == (sum("fl" in one.codes for one in case.slow), len(case.slow))
        word = re.search(r"as a (\w+)", case.sentence)
        assert word is not None
        size = ("single", "pair", "pung", "kong", "quint", "sextet").index(word[1]) + 1
        assert count[size] == most == max(count.values())
        assert ("No joker" in case.sentence) == (size < 3)

    each_claim(said.FlowersWanted, claim)


def named(sentence: str, slow: list[Slow]) -> tuple[set[str], int]:
    """The hands that a sentence names, and how many it speaks of."""
    names = {one.hand.name for one in slow if re.search(rf"(?<!\w){re.escape(one.hand.name)}(?!\w)", sentence)}
    many = re.search(r"(\d+) hands \(", sentence)
    return names, int(many[1]) if many else len(names)


@pytest.mark.slow
def test_no_joker_helps() -> None:
    """`No joker can help in Pairs of boots`: those hands, and no others, are singles and pairs in every way."""

    def claim(case: Case) -> None:
        true = {one.hand.name for one in case.slow if all(size < 3 for way in one.variants for size, _ in way)}
        names, number = named(case.sentence, case.slow)
        assert names <= true
        assert number == len(true)

    each_claim(said.NoJokerHelps, claim)


def short(way: Groups) -> bool:
    """Whether the set runs out of a tile."""
    count: Counter[str] = Counter()
    for size, code in way:
        count[code] += size
    return any(number > (8 if code == "fl" else 4) for code, number in count.items())


@pytest.mark.slow
def test_needs_joker() -> None:
    """`Big pot can't be made without a joker`: every way to make those hands takes more of a tile than there are."""

    def claim(case: Case) -> None:
        true = {one.hand.name for one in case.slow if all(map(short, one.variants))}
        names, number = named(case.sentence, case.slow)
        assert names <= true
        assert number == len(true)

    each_claim(said.NeedsJoker, claim)


@pytest.mark.slow
def test_concealed() -> None:
    """`2 of 12 hands are concealed`."""

    def claim(case: Case) -> None:
        assert figures(case.sentence) == [sum(one.hand.concealed for one in case.slow), len(case.slow)]

    each_claim(said.Concealed, claim)


@pytest.mark.slow
def test_common_shape() -> None:
    """`The commonest order of groups is four pungs and a pair: 3 of 12 hands have it`."""

    def claim(case: Case) -> None:
        assert isinstance(case.remark, said.CommonShape)
        shapes = [{tuple(g.size for g in variant.groups) for variant in one.hand.variants} for one in case.slow]
        count = Counter(shape for found in shapes for shape in found)
        assert figures(case.sentence)[-2:] == [count[case.remark.shape], len(case.slow)]
        assert count[case.remark.shape] == max(count.values())

    each_claim(said.CommonShape, claim)


@pytest.mark.slow
def test_suits_needed() -> None:
    """`Of 12 hands, 3 can be made with the numbers of one suit, and 5 need all three suits`."""

    def claim(case: Case) -> None:
        suits = [{len({code[1] for _, code in way if code[0].isdigit()}) for way in one.variants} for one in case.slow]
        one, three = sum(1 in found for found in suits), sum(found == {3} for found in suits)
        found = re.fullmatch(
            r"Of (\d+) hands?, (\d+) can be .* one suit, and (\d+) needs? all three suits\.", case.sentence
        )
        assert found is not None
        assert [int(part) for part in found.groups()] == [len(case.slow), one, three]

    each_claim(said.SuitsNeeded, claim)


@pytest.mark.slow
def test_honours_home() -> None:
    """`Winds are wanted in 10 of 60 hands, and 6 of those stand in Weather`."""

    def claim(case: Case) -> None:
        first = "w" if case.sentence.startswith("Winds") else "d"
        hands = [one for one in case.slow if any(code[0] == first for code in one.codes)]
        section, most = Counter(one.hand.section for one in hands).most_common(1)[0]
        assert figures(case.sentence)[:3] == [len(hands), len(case.slow), most]
        assert f"stand in {section}:" in case.sentence
        assert len(hands) <= len(case.slow) / 4

    each_claim(said.HonoursHome, claim)


@pytest.mark.slow
def test_unwanted() -> None:
    """`No hand of this sheet needs the north wind`: none does, and every kind that is not named is needed."""

    def claim(case: Case) -> None:
        assert isinstance(case.remark, said.Unwanted)
        used = {code for one in case.slow for code in one.codes}
        assert {CODES[kind] for kind in case.remark.kinds} == set(CODES) - used - {"jk"}
        assert all(NAMES[kind] in case.sentence for kind in case.remark.kinds)

    each_claim(said.Unwanted, claim)


@pytest.mark.slow
def test_narrow_and_wide() -> None:
    """`New calendar can be made in 6 ways only; Draught, in 48, leaves you the most to choose from`."""

    def claim(case: Case) -> None:
        ways = {one.hand.name: len(one.variants) for one in case.slow}
        found = re.fullmatch(
            r"(.+) can be made in ([\d,]+) ways? only; (.+), in ([\d,]+), leaves you .*", case.sentence
        )
        assert found is not None
        assert ways[found[1]] == int(found[2]) == min(ways.values())
        assert ways[found[3]] == int(found[4].replace(",", "")) == max(ways.values())

    each_claim(said.NarrowAndWide, claim)


@pytest.mark.parametrize("name", ["first-steps", 100, 101, 102, 103])
@pytest.mark.slow
def test_close_hands(name: str | int) -> None:
    """`Cups in a row and Umbrella stand can share 12 of their 14 tiles, more than any other two hands`: said if and
    only if no other two share as many."""
    slow = slow_called(name)
    found = [one for one in remarks(Study.of(sheet_called(name))) if isinstance(one, said.CloseHands)]
    count = {
        (one.hand.name, other.hand.name): max(_shared(way, theirs) for way in one.variants for theirs in other.variants)
        for one, other in combinations(slow, 2)
    }
    most = max(count.values())
    assert bool(found) == (list(count.values()).count(most) == 1)
    for remark in found:
        assert count[remark.one, remark.other] == remark.tiles == most
        assert f"{remark.one} and {remark.other} can share {most} of their 14 tiles" in sentence_of(remark)


def _shared(one: Groups, other: Groups) -> int:
    mine, theirs = (Counter({c: sum(s for s, code in way if code == c) for _, c in way}) for way in (one, other))
    return sum((mine & theirs).values())


@pytest.mark.slow
def test_counts_for_more() -> None:
    """`58% of the hands want the flower, but 70% of the hands that come off need it`, by the weights given."""

    def claim(case: Case) -> None:
        assert isinstance(case.remark, said.CountsForMore)
        code = CODES[case.remark.kind]
        weights = [1.0 + place % 5 for place in range(len(case.slow))]
        shares = [sum(any(c == code for _, c in way) for way in one.variants) / len(one.variants) for one in case.slow]
        made = sum(w * share for w, share in zip(weights, shares, strict=True)) / sum(weights)
        hands = sum(code in one.codes for one in case.slow) / len(case.slow)
        assert re.findall(r"\d+%", case.sentence) == [f"{hands:.0%}", f"{made:.0%}"]
        assert made > hands

    each_claim(said.CountsForMore, claim)


def test_every_kind_of_remark_has_a_test() -> None:
    """Sixteen kinds of sentences; one that is added needs a test here."""
    kinds = {kind.__name__ for kind in Remark.__args__}
    assert len(kinds) == 16
    text = Path(__file__).read_text(encoding="utf-8")
    assert all(f"said.{kind}" in text for kind in kinds)


@pytest.mark.parametrize("name", SHEETS)
@pytest.mark.slow
def test_a_few_sentences_and_all_different(name: str | int) -> None:
    """Ten at most, none twice, none over 150 characters."""
    found = sentences(Study.of(sheet_called(name)))
    assert 5 <= len(found) <= FEW
    assert len(set(found)) == len(found)
    assert all(len(sentence) <= 150 for sentence in found)


def test_a_sheet_of_one_hand() -> None:
    """A sheet with a single hand and no number can be studied."""
    reading = read(
        "sheet: Lone\nseason: 2026\nsections:\n- section: One\n  hands:\n  - hand: Chimney\n"
        "    groups: sextet flower, kong wind u, kong dragon red\n    points: 40\n"
    )
    assert reading.sheet is not None
    study = Study.of(reading.sheet)
    assert "1 hand, which can be made in 4 ways." in report(study)[0]
    assert all(sentence for sentence in sentences(study))
