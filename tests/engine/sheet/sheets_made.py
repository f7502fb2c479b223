"""Hypothesis strategies: hands of fourteen tiles in the notation, and whole sheet files of them."""

from dataclasses import dataclass

from hypothesis import strategies as st

from engine.sheet.clauses import parse_where
from engine.sheet.model import Line
from engine.sheet.parsing import parse_groups
from engine.sheet.variants import StepsLeft, TooManyWaysError, expand

SIZE_WORDS = ("single", "pair", "pung", "kong", "quint", "sextet")
SUIT_WORDS = ("a", "b", "c", "bam", "crak", "dot")


@dataclass(frozen=True)
class MadeHand:
    """A hand as text: its lines of groups and its clauses."""

    lines: tuple[str, ...]
    where: str


@st.composite
def tiles(draw):
    """A tile that is one group."""
    kind = draw(st.sampled_from(["rank", "rank", "digit", "honour", "own"]))
    suit = draw(st.sampled_from(SUIT_WORDS))
    if kind == "rank":
        return f"{suit}.{draw(st.sampled_from('nnm'))}{draw(st.sampled_from(['', '', '+1', '+2', '+5', '-1', '-3']))}"
    if kind == "digit":
        return f"{suit}.{draw(st.integers(1, 9))}"
    if kind == "own":
        return f"dragon of {suit}"
    return draw(st.sampled_from(["flower", "zero", "wind north", "wind u", "wind w", "dragon red", "dragon v"]))


@st.composite
def line_texts(draw):
    """Groups that come to fourteen tiles, the season having four digits."""
    left, groups = 14, []
    while left:
        plural = draw(st.sampled_from([""] * 8 + ["each wind", "each dragon", "season a", "season b"]))
        count = {"": 1, "each dragon": 3}.get(plural, 4)
        if count > left:
            plural, count = "", 1
        size = draw(st.integers(1, min(6, left // count)))
        groups.append(f"{SIZE_WORDS[size - 1]} {plural or draw(tiles())}")
        left -= size * count
    return ", ".join(groups)


@st.composite
def hands(draw):
    """One alternative or two, and up to two clauses about their letters."""
    lines = tuple(draw(st.lists(line_texts(), min_size=1, max_size=2)))
    words = {word for line in lines for group in line.split(",") for word in group.replace(".", " ").split()}
    ranks = [letter for letter in "nm" if any(word[0] == letter and word[1:2] in ("", "+", "-") for word in words)]
    clauses = []
    if ranks:
        one, two = st.sampled_from(ranks), st.sampled_from([*ranks, 2, 9])
        forms = [
            st.builds("{} odd".format, one),
            st.builds("{} even".format, one),
            st.builds("{} in 2..6".format, one),
            st.builds("{} in 3 6 9".format, one),
            st.builds("{} < {}".format, one, two),
            st.builds("{} != {}".format, two, one),
            st.builds("{} + {} = {}".format, one, two, two),
            st.builds("{} * {} = {}".format, two, one, two),
        ]
        clauses += draw(st.lists(st.one_of(forms), max_size=2))
    if {"u", "w"} <= words and draw(st.booleans()):
        clauses.append("u != w")
    return MadeHand(lines, "; ".join(clauses))


def can_be_made(hand):
    """Whether a hand has variants, and few enough to be quick with."""
    lines = [Line(parse_groups(line).patterns, line) for line in hand.lines]
    try:
        return bool(expand(lines, parse_where(hand.where).clauses if hand.where else (), "2026", work=StepsLeft(5_000)))
    except TooManyWaysError:
        return False


names = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs")), min_size=1, max_size=40).filter(
    lambda text: text.strip()
)
"""Names of every kind, YAML's own signs included."""


def quote(text):
    """A text in YAML's single quotes."""
    return "'" + text.replace("'", "''") + "'"


@st.composite
def sheet_texts(draw):
    """The text of a sheet file, nearly always without faults."""
    rows = [f"sheet: {quote(draw(names))}", f"season: {draw(st.sampled_from(['2026', '0001', '1999']))}"]
    if draw(st.booleans()):
        rows.append(f"maker: {quote(draw(names))}")
    rows.append("sections:")
    taken = draw(st.lists(names, min_size=2, max_size=4, unique_by=str.strip))
    parts = draw(st.integers(1, 2))
    for section in range(parts):
        rows += [f"- section: {quote(taken[section])}", "  hands:"]
        for name in taken[section::parts]:
            hand = draw(hands().filter(can_be_made))
            rows.append(f"  - hand: {quote(name)}")
            if len(hand.lines) == 1 and draw(st.booleans()):
                rows.append(f"    groups: {hand.lines[0]}")
            else:
                rows += ["    either:", *(f"    - {line}" for line in hand.lines)]
            if hand.where:
                rows.append(f"    where: {hand.where}")
            rows.append(f"    hold: {draw(st.sampled_from(['open', 'concealed']))}")
            rows.append(f"    points: {draw(st.integers(1, 1000))}")
    return "\n".join(rows) + "\n"
