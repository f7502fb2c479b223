"""Records: they round-trip, replay from the log alone, and a damaged one gives what stands before the damage."""

from dataclasses import replace

import pytest
from depth import deep
from houses import HOUSES
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.rules.actions import Discard, Draw, LetGo
from engine.rules.deal import DealCode
from engine.rules.game import apply, legal_actions
from engine.rules.house import FULL, House, parse_house, write_house
from engine.rules.record import Header, Record, RecordError, from_text, play_back, replay, sheet_for, to_text
from engine.rules.state import CHANCE

SEEDS = st.integers(0, 10**9)


def recorded(kit, house, seed, choose=None):
    """A game's record and its states."""
    steps, last = kit.random_game(house, seed, choose)
    first = steps[0][0]
    wall = (
        *(
            kind
            for start, end in ((0, 4), (4, 8), (8, 12), (12, 13))
            for rack in first.racks
            for kind in rack[start:end]
        ),
        first.racks[0][13],
        *first.wall,
    )
    entries = tuple((state.to_act, action) for state, action in steps)
    return Record(Header.of(kit.sheet, house, wall), entries), [*(state for state, _ in steps), last]


@settings(max_examples=deep(15, 40), deadline=None)
@given(HOUSES, SEEDS)
@pytest.mark.slow
def test_a_record_goes_to_text_and_back_and_replays(kit, house, seed):
    """The text alone gives the same record, and that the same states, draw by draw."""
    record, states = recorded(kit, house, seed, kit.choose_keenly)
    reading = from_text(to_text(record))
    assert reading.error is None
    assert reading.record == record
    assert replay(reading.record, kit.sheet) == states


def test_a_record_replays_without_the_random_generator(kit, monkeypatch):
    """Even if nothing random is to be had."""
    import random

    record, states = recorded(kit, House(table=FULL, passes=6, courtesy=True), 5)
    text = to_text(record)
    monkeypatch.setattr(random, "Random", None)
    assert replay(from_text(text).record, kit.sheet)[-1] == states[-1]


def test_the_text_is_small_and_can_be_read(kit):
    """Version first, then the header, an empty line, and a line for everything that happened."""
    code = DealCode.of(kit.sheet, House(), 5)
    state = code.deal(kit.sheet)
    first = legal_actions(state)[0]
    record = Record(Header.of(kit.sheet, House(), code.wall(), str(code))).plus(0, first)
    record = record.plus(CHANCE, Draw(state.wall[0]))
    lines = to_text(record).splitlines()
    assert lines[:6] == [
        "lone-east record 1",
        "sheet: Copper Kettle",
        "season: 2031",
        f"fingerprint: {kit.sheet.fingerprint}",
        "house: table quiet, jokers 8, picks 0, seat east, passes 0, courtesy no, blind yes, slips no",
        f"deal: {code}",
    ]
    assert [line[:6] for line in lines[6:10]] == ["wall: "] * 4
    assert lines[10:] == ["", f"east {first}", f"wall draw {lines[7].split()[16]}", "end"]
    assert max(map(len, lines)) <= 120


@given(HOUSES)
def test_house_rules_round_trip_through_one_line(house):
    """`parse_house` undoes `write_house`."""
    assert parse_house(write_house(house)) == house


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("", "is no house rule"),
        ("table quiet", "the house rules lack “jokers”"),
        ("table quiet, table full", "comes twice"),
        (write_house(House()).replace("seat east", "seat up"), "seat is “up”; write east, south, west or north"),
        (write_house(House()).replace("blind yes", "blind maybe"), "blind is “maybe”; write no or yes"),
        (write_house(House()).replace("jokers 8", "jokers 11"), "jokers is 11; choose 0 to 10"),
        (write_house(House()).replace("jokers 8", "jokers ８"), "write a number"),
        (write_house(House()) + ", loss_limit 1000", "write a number of at most three digits"),
        (write_house(House()) + ", others sharp sharp", "choose three of beginner, steady, sharp, expert"),
        (write_house(House()).replace("quiet", "round"), "table is “round”; choose quiet, full or two"),
    ],
)
def test_house_rules_that_can_not_be_read_say_what_to_write(line, said):
    """One sentence with the setting and its choices."""
    with pytest.raises(ValueError, match=r"house rule|write|choose") as caught:
        parse_house(line)
    assert said in str(caught.value)


@given(
    st.text(min_size=0, max_size=30),
    st.text(max_size=10),
    st.one_of(st.none(), st.lists(st.text(max_size=20), min_size=1, max_size=3).map(tuple)),
)
@pytest.mark.slow
def test_any_name_of_a_sheet_survives_the_text(kit, name, season, sections):
    """Quotes, line breaks, colons, empty names and odd spaces come back as they were."""
    record, _ = recorded(kit, House(picks=1), 1)
    record = replace(record, header=replace(record.header, sheet=name, season=season, sections=sections))
    assert from_text(to_text(record)).record == record


@pytest.fixture(scope="module")
def written(kit):
    """A full game's record, its lines, and how many of them belong to the header."""
    record, _ = recorded(kit, House(table=FULL, passes=3), 3, kit.choose_keenly)
    lines = to_text(record).split("\n")
    return record, lines, lines.index("") + 1


@pytest.mark.parametrize(
    ("damage", "said"),
    [
        ("east discard", "“discard” is no action"),
        ("east discard 9x", "“discard 9x” is no action"),
        ("nobody discard 1b", "does not start with east, south, west, north or wall"),
        ("\x00\x01\x02", "does not start with"),
        ("east", "“” is no action"),
        ("EAST discard 1b", "does not start with"),
        ("east pass 1b", "a pass is 3 tiles"),
        ("x" * 100000, "does not start with"),
    ],
)
def test_a_damaged_line_gives_all_that_stands_before_it(kit, written, damage, said):
    """The entries up to it are usable, and the error has its number."""
    record, lines, head = written
    reading = from_text("\n".join([*lines[: head + 20], damage, *lines[head + 21 :]]))
    assert reading.record == Record(record.header, record.entries[:20])
    assert reading.error.startswith(f"line {head + 21}: ")
    assert said in reading.error
    assert len(reading.error) < 300
    assert len(replay(reading.record, kit.sheet)) == 21


@pytest.mark.slow
def test_a_text_cut_anywhere_is_found_out_and_gives_its_whole_lines(written):
    """In the header there is no record; later all whole lines are there. Either way the error says it is cut."""
    record, lines, head = written
    text = "\n".join(lines).rstrip()
    for length in range(0, len(text), 7):
        reading = from_text(text[:length])
        whole = text[:length].count("\n") - head
        assert reading.error
        if reading.record is None:
            assert whole < 0
        else:
            assert reading.record.entries[: max(0, whole)] == record.entries[: max(0, whole)]
            assert max(0, whole) <= len(reading.record.entries) <= max(0, whole) + 1
    assert from_text(text).record == record


def test_nothing_may_stand_after_the_end(written):
    """But empty lines."""
    record, lines, _ = written
    assert from_text("\n".join([*lines, "", ""])).error is None
    for more in ("east discard 1b", "end"):
        reading = from_text("\n".join([*lines, more]))
        assert reading.record == record
        assert f"“{more}” stands after the record's last line" in reading.error


@pytest.mark.parametrize(
    ("change", "number", "said"),
    [
        (lambda lines: lines[:0], 1, "no record of a game, which starts with “lone-east record 1”"),
        (lambda lines: ["something else", *lines[1:]], 1, "no record of a game"),
        (lambda lines: ["lone-east record 2", *lines[1:]], 1, "has version 2, and this game reads version 1"),
        (lambda lines: [lines[0], "sheet Copper", *lines[2:]], 2, "is no line of a header"),
        (lambda lines: [lines[0], "colour: red", *lines[1:]], 2, "is no line of a header"),
        (lambda lines: [*lines[:2], *lines[1:]], 3, "or comes twice"),
        (lambda lines: [lines[0], *lines[2:]], 9, "lacks a line “sheet: ...”"),
        (lambda lines: [*lines[:4], "house: table round", *lines[5:]], 5, "lack “jokers”"),
        (lambda lines: [*lines[:5], *lines[6:]], 9, "not the full set with 8 jokers"),
        (lambda lines: [*lines[:5], "wall: 1x 2x", *lines[6:]], 6, "“1x” is no tile"),
        (lambda lines: [*lines[:1], 'sheet: "broken', *lines[2:]], 2, "should be one quoted text"),
        (lambda lines: [*lines[:1], "sheet: " + '"' + "[" * 90000, *lines[2:]], 2, "should be one quoted text"),
        (lambda lines: [*lines[:1], 'sheet: "a" 5', *lines[2:]], 2, "should be one quoted text"),
    ],
)
def test_a_damaged_header_is_no_record_and_says_where(written, change, number, said):
    """The line's number, what is wrong, and no record."""
    _, lines, _ = written
    reading = from_text("\n".join(change(lines)))
    assert reading.record is None
    assert reading.error.startswith(f"line {number}: ")
    assert said in reading.error
    assert len(reading.error) < 300


def test_windows_line_ends_and_a_byte_order_mark_are_read(written):
    """As an editor might leave them."""
    record, lines, _ = written
    assert from_text("\ufeff" + "\r\n".join(lines)).record == record


def test_a_text_too_long_to_be_a_record_is_refused():
    """Before anything of it is read."""
    assert "no record is over" in from_text("a" * ((1 << 20) + 1)).error


@settings(max_examples=150)
@given(st.text(max_size=200))
@pytest.mark.slow
def test_any_text_at_all_is_read_without_a_traceback(text):
    """Hostile text gives an error."""
    assert from_text(text).error
    assert from_text("lone-east record 1\n" + text).error


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 60), st.text(max_size=30))
@pytest.mark.slow
def test_any_line_put_anywhere_is_read_without_a_traceback(kit, written, place, text):
    """A foreign line in header or log never raises, neither in reading nor in replay."""
    _, lines, _ = written
    reading = from_text("\n".join([*lines[:place], text, *lines[place:]]))
    if reading.record is not None and reading.record.header.fingerprint == kit.sheet.fingerprint:
        play_back(replace(reading.record, header=replace(reading.record.header, sections=None)), kit.sheet)


def test_a_record_of_another_sheet_says_so(kit):
    """Names, seasons and editions of both."""
    record, _ = recorded(kit, House(picks=1), 1)
    with pytest.raises(
        RecordError, match=r"played on Copper Kettle of season 2031, edition .*Tin Kettle of season 2030"
    ):
        replay(record, kit.other)


def test_a_record_of_chosen_sections_is_replayed_on_those(kit):
    """The whole sheet is cut as it was; another cut is refused."""
    cut = kit.sheet.cut(["Stairs", "Sums"])
    record, _ = recorded(kit, House(picks=1), 1)
    record = replace(record, header=Header.of(cut, House(picks=1), record.header.wall))
    assert from_text(to_text(record)).record == record
    assert replay(record, kit.sheet)[0].sheet == cut
    assert sheet_for(record.header, cut) is cut
    with pytest.raises(RecordError, match="other sections"):
        replay(record, kit.sheet.cut(["Stairs"]))
    with pytest.raises(RecordError, match="other sections"):
        sheet_for(Header.of(kit.sheet, House(), record.header.wall), cut)
    with pytest.raises(RecordError, match="there is no section “Attic”"):
        sheet_for(replace(record.header, sections=("Attic",)), kit.sheet)


def test_a_log_that_breaks_a_rule_replays_up_to_there(kit):
    """The states before it, and a sentence with the entry's number and the rule."""
    record, states = recorded(kit, House(), 2)
    wrong = (*record.entries[:4], (0, LetGo()), *record.entries[5:])
    played = play_back(Record(record.header, wrong), kit.sheet)
    assert list(played.states) == states[:5]
    assert played.error.startswith("entry 5: “no call” is not allowed in a turn: ")
    with pytest.raises(RecordError, match="entry 5: ") as caught:
        replay(Record(record.header, wrong), kit.sheet)
    assert caught.value.states == states[:5]


@pytest.mark.parametrize(("seat", "who"), [(1, "south"), (CHANCE, "wall"), (7, "7")])
def test_an_entry_of_the_wrong_seat_is_an_error(kit, seat, who):
    """It says who acts next."""
    record, _ = recorded(kit, House(), 2)
    played = play_back(Record(record.header, ((seat, Discard(0)),)), kit.sheet)
    assert played.error == f"entry 1, “{who} discard 1b”: east acts next"


def test_an_entry_after_the_end_is_an_error(kit):
    """Nobody acts in a finished game."""
    record, states = recorded(kit, House(picks=1), 2)
    played = play_back(record.plus(0, Discard(0)), kit.sheet)
    assert list(played.states) == states
    assert "nobody acts next" in played.error
    played = play_back(record.plus(CHANCE, Draw(0)), kit.sheet)
    assert "nothing more is played" in played.error


def test_records_can_grow_entry_by_entry(kit):
    """`plus` adds one entry and leaves the record before as it was."""
    record, states = recorded(kit, House(picks=2), 2)
    grown = Record(record.header)
    for state, (seat, action) in zip(states, record.entries, strict=False):
        assert apply(state, action) in states
        grown = grown.plus(seat, action)
    assert grown == record


def of_a_code(kit, house=None, seed=5):
    """The text of a record that begins from a deal code, and the code."""
    house = house or House(table=FULL)
    code = DealCode.of(kit.sheet, house, seed)
    return to_text(Record(Header.of(kit.sheet, house, code.wall(), str(code)))), code


@pytest.mark.parametrize(
    ("change", "wrong"),
    [
        (lambda kit, _: ("deal", DealCode.of(kit.sheet, House(table=FULL), 6)), "for another wall"),
        (lambda kit, _: ("deal", DealCode.of(kit.sheet, House(), 5)), "for another house rules"),
        (lambda kit, _: ("deal", DealCode.of(kit.other, House(table=FULL), 5)), "for another sheet"),
        (lambda _kit, code: ("deal", f"{str(code)[:-1]}{'0' if str(code)[-1] != '0' else '1'}"), "has a slip in it"),
        (lambda _kit, _: ("deal", "a deal of my own"), "the deal code “a deal of my own”"),
    ],
)
def test_a_deal_line_that_does_not_belong_to_the_record_is_refused(kit, change, wrong):
    """The code must deal this wall, by these house rules, for this edition of the sheet."""
    text, code = of_a_code(kit)
    assert from_text(text).error is None
    key, value = change(kit, code)
    lines = [f"{key}: {value}" if line.startswith(f"{key}: ") else line for line in text.splitlines()]
    reading = from_text("\n".join(lines) + "\n")
    assert reading.record is None
    assert wrong in reading.error
    assert reading.error.startswith("line ")


@pytest.mark.parametrize(("key", "value"), [("sheet", "Brass Kettle"), ("season", "2030")])
def test_a_sheet_line_that_does_not_belong_to_the_fingerprint_is_refused(kit, key, value):
    """Another name or season than the sheet of that fingerprint has."""
    text, _ = of_a_code(kit)
    lines = [f"{key}: {value}" if line.startswith(f"{key}: ") else line for line in text.splitlines()]
    record = from_text("\n".join(lines) + "\n").record
    with pytest.raises(RecordError, match="correct the line “sheet: ") as caught:
        replay(record, kit.sheet)
    assert value in str(caught.value)


def test_a_record_of_the_longest_length_is_read_and_no_longer_one(kit):
    """1,048,576 characters, blank ones at the end included; one more is refused."""
    text, _ = of_a_code(kit)
    longest = text + " " * (1_048_576 - len(text))
    assert from_text(longest).record is not None
    refused = from_text(longest + " ")
    assert refused.record is None
    assert refused.error == "this is 1048577 characters long, and no record is over 1048576"
