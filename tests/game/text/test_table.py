"""The text table: whole sentences for every command, sense out of nonsense, and a game from deal to finish."""

import re
import unicodedata

import pytest
from at_table import beginner, tiles_of, winning_wall

from engine.advice.advise.passes import advise_passes, choose_before_play
from engine.rules.actions import Discard
from engine.rules.deal import DealCode
from engine.rules.game import start
from engine.rules.house import House
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import Phase
from engine.seats.character import Strength
from engine.seats.players import player
from engine.sheet.shelf import find, shipped
from engine.store.values import StoreError
from engine.tiles import KINDS, code, name, say_tiles
from game.play.advisor import Advisor
from game.play.sitting import Sitting, Unkept
from game.text.heard import hand_sentence
from game.text.table import TextTable
from game.text.typed import tile_of

COMMANDS = ("help rack hands advice odds why sheet discards mahjong back forward note costs").split()
ENDS = (".", "?", "!", "…")


class Book:
    """A keeper that counts what it is given, and can refuse."""

    def __init__(self):
        self.lines, self.refuse = [[]], None

    def append(self, seat, action, after):  # noqa: ARG002
        if self.refuse:
            raise StoreError(self.refuse)
        self.lines[-1].append(action)

    def fork(self, at):
        self.lines.append(self.lines[-1][:at])
        return self


def dealt(seed=3, keeper=None, **rules):
    """A sitting at a seeded deal."""
    sheet = beginner()
    return Sitting(DealCode.of(sheet, House(**rules), seed).deal(sheet), keeper=keeper or Unkept())


def winning(keeper=None):
    """A sitting whose first draw completes the hand, the tile to let go before that, and the hand."""
    wall, spare, hand = winning_wall(House())
    return Sitting(start(beginner(), House(), wall), keeper=keeper or Unkept()), spare, hand


def said(sitting, *lines, **more):
    """Everything that is said while these lines are typed."""
    heard = []
    table = TextTable(sitting, Advisor(sitting.state.sheet, sitting.state.house.jokers), lines, heard.append, **more)
    over = table.play()
    assert over == sitting.over
    assert heard
    return heard


def after(sitting, line, **more):
    """What a line adds to what is said without it."""
    before = len(said(sitting, **more))
    return said(sitting, line, **more)[before:]


def is_sentences(text):
    """Whether a text begins with a capital, a digit or a quotation mark, ends as a sentence does, and can be spoken."""
    first = text[0].isupper() or text[0].isdigit() or text[0] == "“"
    drawing = [char for char in text if unicodedata.category(char) in ("So", "Sk", "Cc", "Co", "Cs", "Zl", "Zp")]
    return first and text.endswith(ENDS) and not drawing and "\n" not in text and text == text.strip()


@pytest.mark.parametrize("line", ["", *COMMANDS, "why 5d", "why joker", "note well", "5d", "quit"])
@pytest.mark.slow
def test_everything_said_is_a_sentence_without_drawing_characters(line):
    """At the start, after a choice, looking back and at the end, whatever is typed."""
    for choices in range(4):
        for back in range(2):
            sitting = dealt(picks=2)
            for _ in range(choices):
                sitting.act(Discard(sitting.observation.rack[0]))
            assert sitting.over == (choices == 3)
            for _ in range(back):
                sitting.back()
            assert all(map(is_sentences, said(sitting, line)))


def test_a_finished_hand_is_told_in_sentences_too():
    """The draw that completes a hand, and the mahjong."""
    sitting, spare, hand = winning()
    heard = said(sitting, name(spare), "mahjong", "costs", "rack", "hands")
    assert all(map(is_sentences, heard))
    assert f"Your tiles make {hand.name}: type “mahjong” to show it." in heard
    assert any(hand.name in line and "by drawing the last tile" in line for line in heard)
    assert any(f"counts {hand.points} points" in line for line in heard)
    assert sitting.state.outcome.kind == "mahjong"


def test_help_names_every_command():
    """No command is a secret."""
    heard = after(dealt(), "help")
    told = " ".join(heard)
    assert all(f"“{command}”" in told for command in COMMANDS if command != "help")


def test_rack_and_discards_are_said():
    """All tiles held, and all let go, by name."""
    sitting = dealt()
    first = sitting.observation.rack[0]
    assert after(sitting, "discards")[0] == "Nothing has been let go yet."
    (line,) = after(sitting, "rack")
    assert line.startswith("You hold 14 tiles: ")
    assert all(name(kind) in line for kind in sitting.observation.rack)
    sitting.act(Discard(first))
    assert after(sitting, "discards") == [f"Let go so far: {name(first)}.", "98 tiles left in the wall."]


def test_hands_name_the_nearest_with_their_odds_and_what_is_to_come():
    """As the advisor has them, five at most."""
    sitting = dealt()
    advice = Advisor(beginner(), 8).advise(sitting.observation)
    heard = after(sitting, "hands")
    assert len(heard) == min(5, len(advice.hands))
    for line, reach in zip(heard, advice.hands, strict=False):
        assert line.startswith(f"{reach.hand.name}, in {reach.hand.section}: ")
        assert f"within {advice.draws} draws" in line
        assert "Still to come: " in line


@pytest.mark.slow
def test_advice_and_why_give_the_advisors_reasons():
    """What to let go, and the reason for any tile held."""
    sitting = dealt()
    advice = Advisor(beginner(), 8).advise(sitting.observation)
    (line,) = after(sitting, "advice")
    assert line == f"Let the {name(advice.let_go)} go. {advice.because}"
    for keep in advice.keeps:
        assert after(sitting, f"why {code(keep.kind)}") == [keep.because]


@pytest.mark.slow
def test_odds_says_what_was_tried_out():
    """How likely a hand is, from how many games, and how close choices stand to the best, the closest first."""
    sitting = dealt()
    advice = Advisor(beginner(), 8).deepen(sitting.observation)
    first, second, *others = after(sitting, "odds")
    assert first.startswith(f"Let the {name(advice.let_go)} go. A hand within the 99 draws to come: ")
    assert advice.chance.share > 0.99
    assert re.search(r": (over 99%|9\d% or more)\.$", first)
    assert second.startswith(f"Played out {advice.chance.games} times from here")
    tried = [keep for keep in advice.keeps if keep.games and keep.kind != advice.let_go]
    assert len(others) == min(len(tried), 5) > 0
    for line in others:
        assert line.startswith("Letting the ")
        assert re.search(
            r"(no difference showed in \d+ games|costs [\d.]+ picks?, give or take (under )?[\d.]+)\.$", line
        )
    assert after(sitting, "odds", hide_advice=True) == [
        "Advice is hidden, as the settings have it; it is there when you step back."
    ]


@pytest.mark.slow
def test_passes_are_advised_and_tried_out():
    """Before play, “advice” says what to pass, vote, ask and give, and “odds” tries the passes out."""
    table = Advisor(beginner(), 8).table
    others = player(Strength.STEADY, table)
    house = House(passes=6, courtesy=True, picks=40)
    sitting = Sitting(DealCode.of(beginner(), house, 3).deal(beginner()), others=others)
    seen = set()
    while sitting.state.phase in BEFORE_PLAY:
        observation = sitting.observation
        (line,) = after(sitting, "advice")
        if sitting.state.phase is Phase.PASSING:
            advice = advise_passes(table, observation)
            if not advice.blind:
                assert line == f"Pass {say_tiles(advice.choices[0].kinds)}. {advice.because}"
            elif advice.blind:
                assert line.endswith(advice.blind_because)
            if not seen:
                first, second, *others = after(sitting, "odds")
                assert first.startswith("Pass ")
                assert "A hand within the 40 draws of play: " in first
                assert second.startswith("Played out ")
                *others, average = others
                assert others
                assert all(one.startswith("Passing ") for one in others)
                assert average.startswith("An average choice of three costs ")
        else:
            assert re.search(r"\b(Agree|Stop|Ask|Give)\b", line)
            assert after(sitting, "odds") == ["There is nothing to try out now."]
        seen.add(sitting.state.phase)
        sitting.act(choose_before_play(table, observation))
    assert {Phase.PASSING, Phase.AGREEING} <= seen


def test_advice_can_be_always_on_or_hidden():
    """Always: with every choice. Hidden: refused now, but there when looking back; and whoever keeps score is told."""
    told = []
    sitting = dealt()
    heard = said(sitting, always_advise=True, advice_given=lambda: told.append(1))
    assert heard[-1].startswith("Let the ")
    assert told == [1]
    heard = after(sitting, "advice", hide_advice=True, always_advise=True, advice_given=lambda: told.append(2))
    assert heard == ["Advice is hidden, as the settings have it; it is there when you step back."]
    sitting.act(Discard(sitting.observation.rack[0]))
    sitting.back()
    assert after(sitting, "advice", hide_advice=True, advice_given=lambda: told.append(3))[0].startswith("Let the ")
    assert told == [1]


def test_the_sheet_is_read_out_hand_by_hand():
    """Every section and hand of every shipped sheet, with points, hold, and a way to make it that adds up."""
    for stem in shipped():
        sheet = find(stem)
        for hand in sheet.hands:
            line = hand_sentence(sheet, hand)
            assert line.startswith(f"{hand.name}, {'concealed' if hand.concealed else 'open'}, {hand.points} points.")
            assert hand.wording in line
            assert is_sentences(line)
    sheet = beginner()
    heard = after(dealt(), "sheet")
    assert len(heard) == len(sheet.sections) + len(sheet.hands)
    hand = next(hand for hand in sheet.hands if len(hand.lines) == 1)
    line = next(line for line in heard if line.startswith(hand.name + ","))
    assert all(name(kind) in line for kind in tiles_of(hand.variants[0]))


def test_a_tile_is_let_go_by_its_code_its_name_or_in_words():
    """5d, 5 dot, let go 5d, discard 5 dot; winds and dragons by their first word."""
    for kind in range(KINDS):
        assert tile_of(code(kind)) == kind
        assert tile_of(f" {name(kind).upper()} ") == kind
    assert tile_of("east") == tile_of("we")
    assert tile_of("red") == tile_of("dr")
    for words in ("{code}", "{name}", "let go {code}", "let {name}", "discard {name}", "go {code}"):
        sitting = dealt()
        kind = sitting.observation.rack[0]
        heard = said(sitting, words.format(code=code(kind), name=name(kind)))
        assert f"You let the {name(kind)} go." in heard
        assert sitting.entries[0].action == Discard(kind)


@pytest.mark.parametrize(
    "nonsense",
    ["zz", "5", "5dd", "why zz", "let", "discard", "let go", "5d 5d", "HELP ME PLEASE", "\x1b[31mred", "x" * 5000,
     "東", "“”", "mahjong now please", "back to the start", "note\x00"],
)  # fmt: skip
@pytest.mark.slow
def test_nonsense_changes_nothing_and_gets_a_sentence(nonsense):
    """Nothing is played, nothing is raised, and the terminal is not steered."""
    sitting = dealt()
    heard = after(sitting, nonsense)
    assert sitting.entries == []
    assert heard
    assert all(map(is_sentences, heard))
    assert all(len(line) < 1000 for line in heard)


@pytest.mark.parametrize(
    "typed",
    ["ask 4", "ask -1", "give 1b 2b 3b 4b", "pass 1b 2b 3b 4b blind -1", "pass jk jk jk", "pass 1b", "agree", "call",
     "exchange 1", "give", "pass \ud800", "5d", "mahjong"],
)  # fmt: skip
@pytest.mark.slow
def test_malformed_and_misplaced_choices_before_play_change_nothing(typed):
    """In every kind of moment before play: a sentence, and nothing is played."""
    table = Advisor(beginner(), 8).table
    others = player(Strength.STEADY, table)
    house = House(passes=6, courtesy=True, picks=40)
    sitting = Sitting(DealCode.of(beginner(), house, 3).deal(beginner()), others=others)
    while sitting.state.phase in BEFORE_PLAY:
        held = sitting.observation.counts
        if not (typed == "agree" and sitting.state.phase is Phase.AGREEING):
            entries = list(sitting.entries)
            heard = after(sitting, typed)
            assert all(map(is_sentences, heard))
            fits = typed == "give" and sitting.state.phase is Phase.GIVING and not sitting.observation.settled
            assert sitting.entries == entries or fits
            if fits:
                break
        assert sitting.observation.counts == held
        sitting.act(choose_before_play(table, sitting.observation))


def test_a_tile_that_is_not_held_is_refused():
    """To let it go, and to ask why."""
    sitting = dealt()
    missing = next(kind for kind in range(KINDS) if kind not in sitting.observation.rack)
    expected = [f"You hold no {name(missing)}; type “rack” to hear your tiles."]
    assert after(sitting, code(missing)) == expected
    assert after(sitting, f"why {name(missing)}") == expected
    assert sitting.entries == []


def test_mahjong_without_a_hand_is_refused_with_the_reason():
    """The rules' own sentence."""
    (line,) = after(dealt(), "mahjong")
    assert line == "No hand on First Steps matches these tiles."


def test_the_end_of_the_input_stops_as_quit_does():
    """A closed terminal loses nothing: the sitting stands where it stood."""
    sitting = dealt()
    first = code(sitting.observation.rack[0])
    said(sitting, first)
    assert len(sitting.decisions) == 1
    heard = said(sitting, "quit", code(sitting.observation.rack[0]))
    assert len(sitting.decisions) == 1
    assert not sitting.over
    assert heard[-1].startswith("You hold 14 tiles")


def test_a_whole_game_to_the_last_pick():
    """Four picks allowed: five tiles go, the end is told, and no more can be let go."""
    book = Book()
    sitting = dealt(keeper=book, picks=4)
    while not sitting.over:
        said(sitting, code(sitting.observation.rack[-1]))
    heard = said(sitting, "5d", "advice", "why joker")
    assert "The game is over." in heard
    assert "All 4 picks are used and no hand was made." in heard
    assert "This game is over; type “back” to step back and try another way, or “quit”." in heard
    assert len(sitting.decisions) == 5
    assert len(book.lines) == 1


def test_back_and_another_choice_is_a_fork():
    """Stepping back tells what was chosen there; the same choice goes forward, another one starts a line of its own."""
    book = Book()
    sitting = dealt(keeper=book)
    first, second = sitting.observation.rack[0], sitting.observation.rack[1]
    heard = said(sitting, code(first), "back")
    assert f"You are looking back. You started and let the {name(first)} go." in heard
    said(sitting, code(first))
    assert len(book.lines) == 1
    heard = said(sitting, "back", code(second), "forward")
    assert heard[-1] == "This is the latest moment; choose what to do."
    assert [line[0] for line in book.lines] == [Discard(first), Discard(second)]
    assert sitting.state.phase is Phase.TURN


def test_costs_name_what_was_dearest():
    """Letting a joker go costs something, and the sentence says what would have been better."""
    sitting = dealt()
    assert after(sitting, "costs") == ["No choice so far has cost you anything that shows."]
    heard = said(sitting, "joker", "costs")
    assert heard[-1].startswith("At the start you let the joker go; letting the ")
    assert re.search(r"would have saved roughly [0-9.]+ picks?\.$", heard[-1])


def test_notes_are_kept_or_the_reason_is_said():
    """The words go to the keeper; without one, without words, or with one that refuses, a sentence says so."""
    notes = []
    assert after(dealt(), "note keep the flowers", keep_note=notes.append) == ["The note is kept."]
    assert notes == ["keep the flowers"]
    assert after(dealt(), "note", keep_note=notes.append)[0].startswith("Type the note behind the word")
    assert after(dealt(), "note x") == ["Notes are kept only where games are kept."]

    def refuse(_):
        raise StoreError("a note is at most 4,000 characters long")

    assert after(dealt(), "note x", keep_note=refuse) == ["A note is at most 4,000 characters long."]


def test_a_store_that_refuses_is_told_and_nothing_is_played():
    """The choice is not taken when it can't be kept."""
    book = Book()
    book.refuse = "deal 1 was carried on in another window; open it again from the past deals"
    sitting = dealt(keeper=book)
    heard = after(sitting, code(sitting.observation.rack[0]))
    assert heard == ["Deal 1 was carried on in another window; open it again from the past deals."]
    assert sitting.entries == []


def test_trouble_with_keeping_is_said_once():
    """When it begins, and not with every choice."""
    now = []
    sitting = dealt()

    def trouble():
        now.append(1)
        return "the disk is full" if len(now) > 1 else None

    heard = said(sitting, code(sitting.observation.rack[0]), code(sitting.observation.rack[1]), trouble=trouble)
    assert heard.count("The disk is full.") == 1
