"""A deal goes out as a small text and comes in again; of a damaged text the usable part, and a sentence on the rest."""

import json
import random
from dataclasses import replace

import pytest
from depth import deep
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine.rules.house import FULL, House
from engine.rules.record import Record
from engine.store.endings import GameEnd
from engine.store.export import LONGEST_FILE, export_file, export_text, file_name, import_file, import_text
from engine.store.store import Store
from engine.store.values import StoreError

HARD_WORDS = [
    "plain words",
    "two\nlines and a \\ and “quotes”",
    '"quoted"',
    "note 3: not a note",
    "  east discard 5d",
    "東 and 🀄",
    "kind: passes",
    "",
]


@pytest.fixture
def played_store(store, played, keep):
    """A store with one deal, noted on."""
    line = keep(store, played(seed=6, entries=25), kind="passes")
    for number, words in enumerate(filter(None, HARD_WORDS)):
        store.note(line, words, None if number == 0 else number)
    return store


@pytest.fixture
def own_sheet(monkeypatch):
    """The sheet is the player's own, as if it did not ship: nothing but its file can bring it."""
    monkeypatch.setattr("engine.store.sheets.shipped_as", lambda _: None)


def without_sheets(path):
    """Another player's store, who has no sheet yet."""
    return Store(path.with_name("other.sqlite"))


def tried(store, text):
    """What came in, or the sentence that nothing could."""
    try:
        return import_text(store, text)
    except StoreError as error:
        return str(error)


def contents(store, line):
    """All that a text should carry."""
    summary = store.line(line)
    notes = [(note.moment, note.text) for note in store.notes(line)]
    return store.record(line), summary.kind, summary.ending, notes


@pytest.mark.parametrize(
    "house", [House(), House(table=FULL, passes=6, courtesy=True, jokers=10)], ids=["quiet", "full"]
)
def test_a_text_that_went_out_comes_in_the_same(store, played, keep, house):
    """Record, kind and notes, under any house rules."""
    line = keep(store, played(seed=8, entries=70, house=house))
    store.note(line, "mine", 5)
    text = export_text(store, line)
    came = import_text(store, text)
    assert came.trouble is None
    assert contents(store, came.line) == contents(store, line)
    assert export_text(store, came.line) == text
    assert store.line(came.line).imported
    assert not store.line(came.line).advice_hidden


def test_words_that_look_like_something_else_come_back(played_store):
    """New lines, quotation marks, and words that look like lines of the file."""
    came = import_text(played_store, export_text(played_store, 1))
    assert came.trouble is None
    assert contents(played_store, came.line) == contents(played_store, 1)


def test_the_text_is_small_and_readable(played_store):
    """Plain lines, without the sheet's own content."""
    text = export_text(played_store, 1)
    assert text.startswith("lone-east record 1\n")
    assert "\nkind: passes\n" in text
    assert "\nnote: plain words\n" in text
    assert "groups:" not in text
    assert len(text) < 5000


@pytest.fixture
def ended(played):
    """A record of a quiet game whose three picks are used."""
    return played(seed=2, entries=99, house=House(picks=3))


def test_the_end_of_a_game_is_found_by_replay(store, keep, ended):
    """It is written for who reads the file, in what form ever; the game itself tells how it ended."""
    line = keep(store, ended)
    store.finish(line, GameEnd("picks", 3))
    text = export_text(store, line)
    assert '\nended: {"kind": "picks", "picks": 3}\n' in text
    without = "".join(row for row in text.splitlines(keepends=True) if not row.startswith("ended:"))
    old = without + "outcome: All picks are used.\nfigures: {}\n"
    forged = without + 'ended: {"kind": "mahjong", "winner": 0, "points": 900}\n'
    for one in (text, without, old, forged):
        came = import_text(store, one)
        assert came.trouble is None
        assert store.line(came.line).ending == GameEnd("picks", 3)


def test_an_end_is_not_believed_of_an_unfinished_game(store, keep, played):
    """Whatever the file says, and however long."""
    text = export_text(store, keep(store, played(entries=6)))
    for claim in ('ended: {"kind": "mahjong", "winner": 0, "points": 900}', "outcome: " + "I won. " * 3000):
        came = import_text(store, f"{text}{claim}\n")
        assert store.line(came.line).ending is None
        assert store.last_line() != came.line


@pytest.mark.usefixtures("own_sheet")
def test_an_end_waits_for_the_sheet_that_proves_it(store, path, sheet, keep, ended):
    """Unchecked, the game has no end; it has one as soon as its sheet is loaded."""
    text = export_text(store, keep(store, ended))
    with without_sheets(path) as other:
        came = import_text(other, text)
        assert other.line(came.line).ending is None
        other.add_sheet(sheet)
        assert other.line(came.line).ending == GameEnd("picks", 3)


def test_a_fork_goes_out_whole(store, played, keep):
    """The part that it shares with its parent is in the text, and the notes on it."""
    line = keep(store, played(entries=20))
    store.note(line, "shared", 4)
    store.note(line, "not shared", 15)
    child = store.fork(line, 10)
    came = import_text(store, export_text(store, child))
    assert store.line(came.line).parent is None
    assert store.record(came.line) == store.record(child)
    assert [note.text for note in store.notes(came.line)] == ["shared"]


def test_an_imported_deal_is_not_the_one_to_resume(store, played, keep):
    """Someone else's unfinished deal is looked at when the player wants to."""
    line = keep(store, played(entries=6))
    import_text(store, export_text(store, line))
    assert store.last_line() == line


@pytest.mark.usefixtures("own_sheet")
def test_a_deal_on_an_unknown_sheet_is_kept_unchecked_until_the_sheet_comes(played_store, path, sheet):
    """It is listed with the sheet's name; the sentence says what to load; loaded, the deal opens."""
    text = export_text(played_store, 1)
    with without_sheets(path) as other:
        came = import_text(other, text)
        assert "unchecked" in came.trouble
        assert f"“{sheet.name}” ({sheet.season})" in came.trouble
        assert "load its file" in came.trouble
        assert other.line(came.line).sheet_name == sheet.name
        assert [kept.whole for kept in other.sheets()] == [False]
        assert other.record(came.line) == played_store.record(1)
        with pytest.raises(StoreError, match="load its file"):
            other.sheet_of(came.line)
        other.add_sheet(sheet)
        assert other.sheet_of(came.line) == sheet
        assert [kept.whole for kept in other.sheets()] == [True]


def test_a_deal_on_a_sheet_that_ships_is_checked_at_once(played_store, path, sheet):
    """Nobody need load what comes with the game."""
    text = export_text(played_store, 1)
    with without_sheets(path) as other:
        came = import_text(other, text)
        assert came.trouble is None
        assert other.sheet_of(came.line) == sheet


@pytest.mark.slow
def test_a_text_cut_anywhere_gives_the_part_before_the_cut(played_store):
    """Every length: a whole deal, a usable beginning with a sentence, or one sentence when the header is torn."""
    text = export_text(played_store, 1)
    whole = played_store.record(1)
    lengths = []
    header_ends = text.index("\n\n")
    for length in [*range(0, header_ends, 50), *range(header_ends, len(text), 11)]:
        came = tried(played_store, text[:length])
        if isinstance(came, str):
            assert "\n" not in came
            assert not lengths, "a longer text must not be worse"
            continue
        record = played_store.record(came.line)
        assert record.header == whole.header
        assert record.entries == whole.entries[: len(record.entries)]
        lengths.append(len(record.entries))
    assert lengths == sorted(lengths)
    assert (lengths[0], lengths[-1]) == (0, 25)


def test_an_entry_against_the_rules_ends_the_deal_before_it(played_store):
    """And what was written of the end of the deal no longer holds."""
    lines = export_text(played_store, 1).split("\n")
    first = lines.index("") + 1
    lines[first + 7] = lines[first + 5]
    came = import_text(played_store, "\n".join(lines))
    assert played_store.record(came.line).entries == played_store.record(1).entries[:7]
    assert not played_store.line(came.line).finished
    assert "up to entry 7" in came.trouble
    assert {note.moment for note in played_store.notes(came.line)} <= {None, *range(8)}


def test_bad_lines_of_our_own_leave_the_deal_whole(played_store):
    """A torn note costs that note, and its line is named."""
    text = export_text(played_store, 1) + 'note 4: "torn\nfigures: {"points": NaN}\noutcome: \nended: no matter\n'
    came = import_text(played_store, text)
    assert "not all that was written with it" in came.trouble
    assert f"line {text.count(chr(10)) - 3}:" in came.trouble
    assert contents(played_store, came.line) == contents(played_store, 1)


@pytest.mark.parametrize(
    "text",
    ["", "\n\n", "a letter", "lone-east record 1", "lone-east record 999\n", "\x00" * 100, "x" * (LONGEST_FILE + 1)],
    ids=["empty", "blank", "letter", "title", "newer", "nul", "long"],
)
def test_a_text_that_is_no_deal_is_one_sentence(store, text):
    """Nothing is kept of it."""
    with pytest.raises(StoreError) as caught:
        import_text(store, text)
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 300
    assert store.lines() == ()


@pytest.mark.usefixtures("own_sheet")
def test_hostile_names_are_made_harmless(played_store, path):
    """Control characters, halves of pairs and endless names in a header reach neither file nor screen."""
    text = export_text(played_store, 1)
    name = next(line for line in text.split("\n") if line.startswith("sheet: "))
    hostile = json.dumps("\x00\x1b[31m\ud800red\nnew")
    with without_sheets(path) as other:
        came = import_text(other, text.replace(name, f"sheet: {hostile}"))
        assert other.line(came.line).sheet_name == "[31mred new"
        with pytest.raises(StoreError, match="characters long"):
            import_text(other, text.replace(name, "sheet: " + "x" * 5000))


def test_the_code_of_a_deal_is_a_code(played_store):
    """Files are named by it, so it can't be a path; and it is written as every code is."""
    text = export_text(played_store, 1)
    code = played_store.line(1).deal
    for path in ("..\\..\\start", "../../start", f"{code}/../x"):
        with pytest.raises(StoreError, match="deal"):
            import_text(played_store, text.replace(f"deal: {code}", f"deal: {path}"))
    came = import_text(played_store, text.replace(f"deal: {code}", f"deal: {code.lower().replace('-', ' ')}"))
    assert played_store.line(came.line).deal == code


def test_a_file_is_named_by_the_code_or_by_the_number(played_store):
    """Never by what an older version may have taken in for a code."""
    line = played_store.line(1)
    assert file_name(line) == f"deal-{line.deal.lower()}.txt"
    for odd in ("", "../../start", "..\\start", "deal 6"):
        assert file_name(replace(line, deal=odd)) == "deal-1.txt"


def test_no_sentence_holds_what_steers_a_terminal(store):
    """Of whatever a file holds."""
    for text in (
        "lone-east record 1\n\x1b[2Jsheet: \u202ex\n",
        "\x1b]0;title\x07",
        "lone-east record 1\nhouse: \x9b31m",
    ):
        with pytest.raises(StoreError) as caught:
            import_text(store, text)
        assert str(caught.value).isprintable()


def test_a_deal_of_other_sections_than_the_sheet_has_is_refused(played_store):
    """Its advice could never be given."""
    text = export_text(played_store, 1).replace("\nhouse: ", "\nsection: No such section\nhouse: ")
    with pytest.raises(StoreError, match="No such section"):
        import_text(played_store, text)


@settings(max_examples=deep(60, 150), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
@pytest.mark.slow
def test_no_text_raises_anything_but_a_sentence(played_store, data):
    """Bits of a real text shuffled, repeated, cut, and strewn with rubbish."""
    lines = export_text(played_store, 1).split("\n")
    rubbish = (
        st.text(max_size=30) | st.sampled_from(lines) | st.sampled_from(["note 999999: x", "figures: []", "note: ["])
    )
    for _ in range(data.draw(st.integers(1, 4))):
        place = data.draw(st.integers(0, len(lines)))
        lines[place : place + data.draw(st.integers(0, 3))] = data.draw(st.lists(rubbish, max_size=3))
    came = tried(played_store, "\n".join(lines))
    if isinstance(came, str):
        assert "\n" not in came
    else:
        record = played_store.record(came.line)
        assert isinstance(record, Record)
        assert came.trouble is None or "\n" not in came.trouble
        for note in played_store.notes(came.line):
            assert note.moment is None or note.moment <= len(record.entries)


def test_files_go_out_and_come_in(played_store, tmp_path):
    """Through a file, as one player hands a deal to another."""
    file = tmp_path / "deal.txt"
    export_file(played_store, 1, file)
    export_file(played_store, 1, file)
    came = import_file(played_store, file)
    assert contents(played_store, came.line) == contents(played_store, 1)


def test_bytes_that_are_no_text_end_the_deal_there(played_store, tmp_path):
    """As a damaged disk leaves them."""
    file = tmp_path / "deal.txt"
    export_file(played_store, 1, file)
    content = bytearray(file.read_bytes())
    place = content.index(b"\n\n") + 200
    content[place : place + 40] = random.Random(3).randbytes(40)
    file.write_bytes(content)
    came = import_file(played_store, file)
    assert 0 < len(played_store.record(came.line).entries) < 25
    assert "damaged" in came.trouble


@pytest.mark.parametrize("kind", ["missing", "folder", "huge"])
def test_a_file_that_cannot_be_read_is_one_sentence(store, tmp_path, kind):
    """It names the file and what to do."""
    file = tmp_path / "deal.txt"
    if kind == "folder":
        file.mkdir()
    elif kind == "huge":
        file.write_bytes(b"east discard 5d\n" * 100_000)
    with pytest.raises(StoreError, match=r"choose|check") as caught:
        import_file(store, file)
    assert "\n" not in str(caught.value)


def test_a_place_that_cannot_be_written_is_one_sentence(played_store, tmp_path):
    """And the store is as it was."""
    with pytest.raises(StoreError, match="choose another folder or name"):
        export_file(played_store, 1, tmp_path / "nowhere" / "deal.txt")
