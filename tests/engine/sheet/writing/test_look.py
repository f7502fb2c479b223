"""One hand's text read by itself: the same hand as in the whole file, its faults in the form, tiles while one types."""

import pytest
from broken_sheets import HANDS, swap

from engine.sheet.clauses import parse_clause
from engine.sheet.parsing import parse_group
from engine.sheet.reader import read
from engine.sheet.shelf import find, shipped
from engine.sheet.writing.cutting import cut
from engine.sheet.writing.document import Place
from engine.sheet.writing.hand_text import HandText, new_hand
from engine.sheet.writing.history import History
from engine.sheet.writing.look import laid, look_at, tiles_in
from engine.sheet.writing.suggest import suggest_groups, suggest_where
from engine.sheet.writing.whole import Looks, playable


def looked(document):
    looks = Looks()
    for _, text in document.hands():
        looks.of(text, Looks().season(document))
    return looks


def test_a_hand_alone_is_the_hand_of_the_sheet():
    """Hand by hand gives the same variants and wording as the whole file."""
    sheet = find("first-steps")
    document = cut(sheet.canonical).document
    for (_, text), hand in zip(document.hands(), sheet.hands, strict=True):
        seen = look_at(text, sheet.season).hand
        assert (seen.name, seen.variants, seen.wording) == (hand.name, hand.variants, hand.wording)


@pytest.mark.parametrize("case", HANDS, ids=lambda case: case.name)
@pytest.mark.slow
def test_faults_are_those_of_the_file(case):
    """Every fault of a hand is found in its text alone, with the same words, at the same character."""
    text = case.content.decode()
    document = cut(text).document
    said = {fault.message for _, piece in document.hands() for fault in look_at(piece, Looks().season(document)).faults}
    assert {fault.message for fault in read(text).faults} <= said


def test_a_fault_stands_at_its_character():
    """The place in the form is where the word at fault begins."""
    text = swap("kong b.y, quint c.z", "kong d.y, quint c.z")
    (fault,) = look_at(cut(text).document.piece(Place(0, 1)), "2026").faults
    assert (fault.field, fault.line) == ("groups", 0)
    assert "pair flower, pung a.x, kong d.y"[fault.at :] == "d.y"
    quoted = (
        new_hand("It's", "quint a.n, quint b.n, kong c.n", "25")
        .replace("quint a.n", "'quint a.n")
        .replace("c.n\n", "c.k9'\n")
    )
    (fault,) = look_at(quoted, "2026").faults
    assert "quint a.n, quint b.n, kong c.k9"[fault.at :] == "k9"


def test_no_season_is_said():
    """A hand with the digits of the season can't be read before there is a season."""
    (fault,) = look_at(new_hand("Year", "single season a, quint b.n, quint c.n", "25"), None).faults
    assert "no season" in fault.message


@pytest.mark.parametrize(
    ("groups", "where", "tiles"),
    [
        ("", "", 0),
        ("quint a.n", "n even", 5),
        ("quint a.n, pung a.n+", "n even", 5),
        ("quint a.n+8, quint b.n", "n even", 10),
        ("quint a.n, pair wind n", "", 7),
        ("pung a.x, kong b.y, pair c.z", "x * y = z; x < y; y < 2", 9),
        ("single season a, pair each wind", "", 12),
    ],
)
def test_tiles_are_shown_while_one_types(groups, where, tiles):
    """As many tiles as the groups so far come to, whether or not letters and clauses allow a way."""
    shown = laid(groups, where, "2027")
    assert sum(group.size for _, groups in shown for group in groups) == tiles == tiles_in(groups, "2027")


def test_tiles_shown_obey_the_clauses():
    """The first way that the clauses allow."""
    ((_, (one,)), (_, (two,))) = laid("pung a.x, kong b.y", "x + y = 9; y < x", "2027")
    assert (one.kind % 9 + 1, two.kind % 9 + 1) == (5, 4)


def typed_by_suggestions(text, suggest):
    """The text made by taking, for each next word, the suggestion for it; gives the texts on the way."""
    made = ""
    while made != text:
        fitting = [
            one for one in suggest(made, len(made)) if text.startswith(one.text.rstrip()) and len(one.text) > len(made)
        ]
        rest = text[len(made) :]
        made = max(fitting, key=lambda one: len(one.text)).text if fitting else made + rest[0]
        yield made
        assert text.startswith(made.rstrip()), made


@pytest.mark.parametrize(
    "group", "quint a.n+3; pair bam.5; kong flower; sextet zero; pung wind u; pair dragon of b; single each wind; "
    "single season a; pung dragon red".split("; "),
)  # fmt: skip
def test_every_form_of_group_is_suggested(group):
    """Each word of a group is offered when its beginning is typed."""
    made = list(typed_by_suggestions(group, lambda text, caret: suggest_groups(text, caret, "2027")))
    assert parse_group(made[-1]) == parse_group(group)
    assert len(made) < len(group), "most of it came from suggestions"


@pytest.mark.parametrize("clause", ["n odd", "n even", "x < y", "u != v", "x + y = z", "x * y = z"])
def test_clauses_are_suggested(clause):
    """Each clause that the letters allow is offered, where nothing is typed or from its first letter."""
    groups = ["pung a.n, pung a.x, pung b.y, pung c.z, pair wind u, pair wind v"]
    texts = [one.text for begun in ("", clause[0]) for one in suggest_where(begun, len(begun), groups)]
    assert clause in texts
    assert parse_clause(clause)


def test_suggestions_know_what_is_left():
    """With two tiles to go no pung is offered; with a digit the size of that many tiles."""
    assert [one.says for one in suggest_groups("sextet a.n, sextet b.n, ", 24)] == ["single", "pair"]
    assert [one.text for one in suggest_groups("5", 1)] == ["quint "]


def test_typing_is_undone_in_one_step():
    """What is typed in one go is one step; other changes are steps of their own; a change after undo ends redo."""
    start = cut(find("first-steps").canonical).document
    place = Place(0, 0)
    history = History(start, place)
    form = HandText.of(start.piece(place))
    states = [start.put(place, form.put("hand", name)) for name in ("A", "Ab", "Abc", "Abcd")]
    for state in states[:3]:
        history.change(state, place, "name")
    history.change(states[3], place)
    assert history.undo().document == states[2]
    assert history.undo().document == start
    assert not history.can_undo
    assert history.redo().document == states[2]
    history.change(states[0], place, "name")
    assert not history.can_redo
    assert history.undo().document == states[2]


def test_what_is_whole_can_be_played():
    """A half-finished sheet: its whole hands make a sheet; empty, faulty and doubled ones are left out."""
    document = cut(find("first-steps").canonical).document
    document = document.add(Place(0, 0), new_hand("Begun", "quint a.n", "25"))
    document = document.add(Place(0, 3), document.piece(Place(0, 2)))
    document = document.add_section(1, "  - section: Empty\n    hands:\n")
    found = playable(document, looked(document).whole(document))
    assert (found.whole, found.hands) == (12, 14)
    assert [hand.name for hand in found.reading.sheet.hands] == [hand.name for hand in find("first-steps").hands]
    assert found.reading.sheet.fingerprint == find("first-steps").fingerprint


@pytest.mark.slow
@pytest.mark.parametrize("stem", shipped())
def test_every_shipped_hand_alone(stem):
    """All hands of every shipped sheet, and all of them together."""
    sheet = find(stem)
    document = cut(sheet.canonical).document
    assert playable(document, looked(document).whole(document)).reading.sheet.fingerprint == sheet.fingerprint
