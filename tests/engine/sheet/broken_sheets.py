"""Broken sheet files of every sort, each with all the faults that must be found in it."""

from __future__ import annotations

from dataclasses import dataclass

GOOD = """\
sheet: Lamp Post
season: 2026
maker: invented for practice
sections:
  - section: Stairs
    hands:
      - hand: Wide landing
        groups: pair a.n, pung a.n+1, pung b.n+3, kong b.n+4, pair a.n+6
        points: 30
      - hand: Two sums
        either:
          - pair flower, pung a.x, kong b.y, quint c.z
          - pair flower, pung a.x, kong a.y, quint b.z
        where: x + y = z; x < y
        hold: concealed
        points: 35
"""
"""A sheet without faults, from which most of the broken ones are made."""

RUN = "pair a.n, pung a.n+1, pung b.n+3, kong b.n+4, pair a.n+6"
FIRST_SUM = "pair flower, pung a.x, kong b.y, quint c.z"
SECOND_SUM = "pair flower, pung a.x, kong a.y, quint b.z"


EITHER = f"either:\n          - {FIRST_SUM}\n          - {SECOND_SUM}"


@dataclass(frozen=True)
class Broken:
    """A file's content and its faults: line, column and a part of the message, in the order of the file."""

    name: str
    content: bytes
    faults: tuple[tuple[int, int, str], ...]


def broken(name: str, content: str | bytes, *faults: tuple[int, int, str]) -> Broken:
    return Broken(name, content.encode() if isinstance(content, str) else content, faults)


def swap(old: str, new: str) -> str:
    """The good sheet with one place changed."""
    assert GOOD.count(old) >= 1, old
    return GOOD.replace(old, new, 1)


def small(rest: str) -> str:
    """A sheet's head and what is to follow it, from line 3 on."""
    return "sheet: Lamp Post\nseason: 2026\n" + rest


_ALIAS = "aliases such as"
_ANCHOR = "anchors such as"
_TAG = "tags such as"
_NESTED = "nested too deeply"
_NO_SHEET = "write sheet:, season: and sections:"

NOT_A_SHEET = [
    broken("empty", "", (1, 1, _NO_SHEET)),
    broken("comment only", "# nothing here\n", (1, 1, _NO_SHEET)),
    broken("a list", "- a\n- b\n", (1, 1, "the file is a list")),
    broken("a text", "hello\n", (1, 1, "the file is a single text")),
    broken("three mebibytes", GOOD + "#" * 3 * 1024 * 1024, (1, 1, "larger than 262,144 bytes")),
    broken("binary", bytes(range(256)) * 10, (3, 115, "0x80 is not UTF-8")),
    broken("UTF-16 with mark", GOOD.encode("utf-16"), (1, 1, "save it as UTF-8")),
    broken("UTF-16 without mark", GOOD.encode("utf-16-be"), (1, 1, "save it as UTF-8")),
    broken("Latin-1", swap("Wide", "Größe").encode("latin-1"), (7, 17, "0xf6 is not UTF-8")),
    broken("NUL", swap("Wide landing", "Wide\0landing"), (7, 19, "U+0000")),
    broken("NUL by escape", swap("Wide landing", '"Wide\\0landing"'), (7, 15, "U+0000")),
    broken("line separator", swap("Wide landing", "Wide\u2028landing"), (7, 19, "U+2028")),
    broken("text direction mark", swap("Wide landing", "Wide\u202elanding"), (7, 15, "U+202E")),
    broken("lone surrogate", swap("Wide landing", '"\\ud800"'), (7, 15, "U+D800")),
    broken("two documents", GOOD + "---\n" + GOOD, (17, 1, "a second document begins here")),
    broken("text after the end", GOOD + "...\n" + GOOD, (18, 1, "the line ... above ends the sheet")),
]

HOSTILE = [
    broken(
        "alias bomb",
        "a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a]\nsheet: *b\n",
        (1, 1, "a sheet lacks its season"),
        (1, 1, "a sheet lacks its sections"),
        (1, 1, "“a” is no key of a sheet"),
        (1, 4, _ANCHOR),
        (2, 1, "“b” is no key of a sheet"),
        (2, 4, _ANCHOR),
        (2, 8, _ALIAS),
        (2, 11, _ALIAS),
        (3, 8, _ALIAS),
    ),
    broken("a list of itself", "&a [*a]", (1, 1, _ANCHOR), (1, 1, "the file is a list"), (1, 5, _ALIAS)),
    broken("sixty thousand brackets", "[" * 60_000, (1, 1, "the file is a list"), (1, 9, _NESTED)),
    broken(
        "sixty thousand braces", small("sections: " + "{a: " * 60_000), (3, 11, "sections is no list"), (3, 39, _NESTED)
    ),
    broken("nested lists", swap(RUN, "[[[[pair a.n]]]]"), (8, 17, "groups is a list"), (8, 20, _NESTED)),
    broken("a number's tag", swap("points: 30", "points: !!int 30"), (9, 17, "“!!int”")),
    broken("an object's tag", swap("Wide landing", "!!python/object:os.system x"), (7, 15, _TAG)),
    broken("an anchor", swap("Wide landing", "&home Wide landing"), (7, 15, _ANCHOR)),
    broken("a star", swap("Wide landing", "*home"), (7, 15, _ALIAS)),
    broken("a directive", "%FOO bar\n" + GOOD, (2, 1, "begins with %")),
    broken("an endless version", "%YAML 1." + "9" * 5000 + "\n---\n" + GOOD, (1, 1, "begin with %")),
    broken("an escape without a character", swap("Wide landing", '"\\UFFFFFFFF"'), (7, 9, "backslashes")),
    broken(
        "endless entries",
        small("sections:\n" + "".join(f"- section: {number}\n" for number in range(1400))),
        *((4 + line, 3, "a section lacks its hands") for line in range(1000)),
        (1004, 3, "more than 1,000 faults"),
    ),
    broken(
        "endless choice",
        swap(RUN, ", ".join(f"single a.{letter}" for letter in "defghijklmnopq")),
        (8, 17, "too many ways"),
    ),
    broken(
        "a hundred alternatives",
        swap(f"          - {SECOND_SUM}\n", f"          - {SECOND_SUM}\n" * 100),
        (12, 11, "write at most 40"),
    ),
]

YAML_SLIPS = [
    broken(
        "tabs after CRLF",
        GOOD.replace("\n", "\r\n").replace("        points", "\t\tpoints"),
        (9, 1, "a tab"),
        (16, 2, "a tab"),
    ),
    broken(
        "a bracket left open",
        swap(RUN, "[" + RUN),
        (8, 17, "groups is a list"),
        (9, 15, "a closing bracket is missing"),
    ),
    broken("a quote left open", swap("Wide landing", "'Wide landing"), (7, 15, "closing quotation mark")),
    broken("too little indent", swap("        points: 30", "       points: 30"), (9, 8, "“p” stands out of line")),
    broken(
        "too much indent", swap("        points: 30", "         points: 30"), (9, 16, "a colon stands where none can")
    ),
    broken("a colon in a name", swap("Wide landing", "Wide: landing"), (7, 19, "a colon stands where none can")),
    broken("an at sign", swap("Wide landing", "@home"), (7, 15, "“@” can't begin a text here")),
    broken("no space after a colon", swap("points: 30", "points:30"), (9, 9, "a colon with a space")),
    broken("no space after a dash", swap("- hand: Two", "-hand: Two"), (10, 7, "a dash needs a space")),
    broken("a backslash", swap("Wide landing", '"Wide\\landing"'), (7, 21, "use single quotes")),
    broken("a list for a key", swap("points: 30", "? [a]\n        : 3\n        points: 30"), (9, 11, "can't be a key")),
]

KEYS = [
    broken(
        "a key twice",
        swap("        points: 30", "        points: 30\n        points: 31"),
        (10, 9, "“points” is written twice"),
    ),
    broken("a key twice at the top", GOOD + "sheet: again\n", (17, 1, "“sheet” is written twice")),
    broken("a key misspelt", swap("points: 30", "point: 30"), (9, 9, "write points")),
    broken("a key nobody knows", swap("maker:", "colour:"), (3, 1, "write one of sheet, season, maker, sections")),
    broken("no season", swap("season: 2026\n", ""), (1, 1, "write season: and its year in digits")),
    broken("a season in words", swap("2026", "next year"), (2, 9, "write 1 to 4 digits")),
    broken("a season too long", swap("2026", "20266"), (2, 9, "write 1 to 4 digits")),
    broken("sections as text", small("sections: none\n"), (3, 11, "sections is no list")),
    broken("no section", small("sections: []\n"), (3, 11, "sections is an empty list")),
    broken("no hand", small("sections:\n  - section: A\n    hands: []\n"), (5, 12, "hands is an empty list")),
    broken("a section as text", small("sections:\n  - A\n"), (4, 5, "write - section:")),
    broken("a hand as text", small("sections:\n  - section: A\n    hands:\n      - B\n"), (6, 9, "write - hand:")),
    broken(
        "everything left empty",
        "sheet:\nseason:\nsections:\n",
        (1, 7, "sheet is empty"),
        (2, 8, "season is empty"),
        (3, 10, "sections is no list"),
    ),
    broken(
        "a section's name twice",
        GOOD + GOOD[GOOD.index("  - section") :].replace("landing", "door").replace("sums", "rows"),
        (17, 14, "there is a section “Stairs” already"),
    ),
    broken("a hand's name twice", swap("Two sums", "Wide landing"), (10, 15, "give it another name")),
    broken("a hand without a name", swap("hand: Wide landing", "hand:"), (7, 14, "hand is empty")),
    broken("a name too long", swap("Wide landing", "W" * 61), (7, 15, "write at most 60")),
    broken("points as a list", swap("points: 30", "points: [30]"), (9, 17, "points is a list")),
    broken("no points", swap("points: 30", "points: 0"), (9, 17, "write a whole number from 1 to 1,000")),
    broken("points below nothing", swap("points: 30", "points: -5"), (9, 17, "“-5”")),
    broken("half points", swap("points: 30", "points: 2.5"), (9, 17, "“2.5”")),
    broken("points without end", swap("points: 30", "points: " + "9" * 5000), (9, 17, "write at most 2,000")),
    broken("points in other digits", swap("points: 30", "points: ٣٠"), (9, 17, "write a whole number")),
    broken("hold misspelt", swap("concealed", "concealled"), (15, 15, "write concealed")),
    broken("hold by no", swap("concealed", "no"), (15, 15, "write open or concealed")),
]

HANDS = [
    broken("thirteen tiles", swap("pair a.n+6", "single a.n+6"), (8, 17, "come to 13 tiles, and a hand has 14; add 1")),
    broken(
        "fifteen tiles", swap("pair a.n+6", "pung a.n+6"), (8, 17, "come to 15 tiles, and a hand has 14; take 1 out")
    ),
    broken(
        "thirteen in one alternative",
        swap(SECOND_SUM, SECOND_SUM.replace("pair", "single")),
        (13, 13, "come to 13 tiles"),
    ),
    broken("numbers beyond nine", swap("points: 30", "where: n in 7 8\n        points: 30"), (8, 17, "no value of n")),
    broken("clauses at odds", swap("x < y", "x < y; y < x"), (12, 13, "no choice of letters")),
    broken(
        "more than the set holds",
        swap(RUN, "pair a.5, pair a.5, pair a.5, kong flower, kong flower"),
        (8, 17, "take 6 tiles 5 bam and the set holds 4"),
    ),
    broken(
        "more than the jokers fill", swap(RUN, "sextet a.5, quint a.5, pung a.5"), (8, 17, "more than the 8 jokers")
    ),
    broken(
        "groups and either",
        swap("        points: 30", f"        either:\n          - {FIRST_SUM}\n        points: 30"),
        (9, 9, "groups or either"),
    ),
    broken("neither groups nor either", swap(f"        groups: {RUN}\n", ""), (7, 9, "a hand lacks its groups")),
    broken("either as text", swap(EITHER, f"either: {FIRST_SUM}"), (11, 17, "either is no list")),
    broken("either without a line", swap(EITHER, "either: []"), (11, 17, "either is empty")),
    broken("groups as a list", swap(RUN, "[pair a.n, pung a.n+1]"), (8, 17, "write it as one text")),
    broken("a bad size", swap("pung a.n+1", "pong a.n+1"), (8, 27, "write pung")),
    broken("a bad tile", swap("pung a.n+1", "pung a.10"), (8, 34, "write 1 to 9")),
    broken("an empty group", swap("pung a.n+1,", "pung a.n+1,,"), (8, 37, "a group is missing")),
    broken("endless groups", swap(RUN, "pair flower, " * 3000), (8, 17, "write at most 2,000")),
    broken(
        "a letter used two ways",
        swap("pair a.n+6", "pair wind n"),
        (8, 63, "stands for a number before and a wind here"),
    ),
    broken(
        "a letter used two ways in two lines",
        swap(SECOND_SUM, SECOND_SUM.replace("flower", "dragon y")),
        (13, 13, "stands for a number before and a dragon here"),
    ),
    broken("an empty where", swap("where: x + y = z; x < y", "where:"), (14, 15, "leave it out")),
    broken(
        "bad clauses",
        swap("x + y = z; x < y", "x + y == z; x > y"),
        (14, 22, "“==” can't be used"),
        (14, 30, "turn it round"),
    ),
    broken("a clause about no letter of the groups", swap("x < y", "x < q"), (14, 27, "no group uses the letter q")),
    broken(
        "a number against a wind",
        swap("pair a.n+6", "pair wind u\n        where: n != u"),
        (9, 16, "compares a number (n) with a wind (u)"),
    ),
    broken(
        "an order of winds",
        swap("kong b.n+4, pair a.n+6", "kong wind v, pair wind u\n        where: u < v"),
        (9, 16, "“u < v” is for numbers"),
    ),
]

MANY = [
    broken(
        "many at once",
        swap(RUN, "pair a.n, pong a.n+1, kong, flower, pair d.5")
        .replace("concealed", "maybe")
        .replace("35", "lots")
        .replace("2026", "soon"),
        (2, 9, "season"),
        (8, 27, "write pung"),
        (8, 39, "has no tile"),
        (8, 45, "a size is missing"),
        (8, 58, "“d” is no suit"),
        (15, 15, "hold"),
        (16, 17, "points"),
    ),
    broken(
        "faults before YAML itself breaks",
        swap("points: 30", "points: none").replace("hold: concealed", "hold: @"),
        (9, 17, "points"),
        (15, 15, "“@” can't begin"),
    ),
]

ALL = [*NOT_A_SHEET, *HOSTILE, *YAML_SLIPS, *KEYS, *HANDS, *MANY]
