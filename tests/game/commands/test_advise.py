"""`lone-east advise`: its answers, its JSON, and one clear sentence for every bad input."""

import argparse
import json
import re

import pytest

from engine.advice.advise.discard import advise, deepen
from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.sheet.groups import SIZES
from engine.sheet.shelf import find
from engine.tiles import JOKER, code, full_set, name
from game.commands import advise as command

RACK = "3x5d 2b 2b 6b fl fl jk we 7c 8c 1d 9d"


def call(capsys, *arguments):
    """Exit status, standard output and standard error of `lone-east advise` with these arguments."""
    parser = argparse.ArgumentParser(prog="lone-east")
    command.add_parser(parser.add_subparsers())
    try:
        args = parser.parse_args(["advise", *arguments])
    except SystemExit as end:
        status = end.code
    else:
        status = args.run(args)
    said = capsys.readouterr()
    return status, said.out, said.err


def test_json_is_the_advice(capsys):
    """The JSON object has just the designed keys, and what the engine advises."""
    status, out, err = call(capsys, "first-steps", RACK, "--draws", "30", "--shown", "5d 1b", "--json")
    assert (status, err) == (0, "")
    data = json.loads(out)
    assert list(data) == ["draws", "chance", "plan", "hands", "keeps", "outlook"]
    counts, _, unseen = command.read_tiles(RACK, "5d 1b", "")
    expected = advise(Moment.of(SheetTable.of(find("first-steps")), counts, unseen, 30))
    assert data["draws"] == 30
    assert [list(hand) for hand in data["hands"]] == [["hand", "section", "missing", "odds", "groups"]] * len(
        expected.hands
    )
    for shown, reach in zip(data["hands"], expected.hands, strict=True):
        assert (shown["hand"], shown["section"]) == (reach.hand.name, reach.hand.section)
        assert (shown["missing"], shown["odds"]) == (reach.missing, reach.odds)
        assert sum(SIZES.index(size) + 1 for size, _ in shown["groups"]) == 14
    assert data["keeps"] == [
        {"tile": code(keep.kind), "picks": keep.picks, "cost": keep.picks / 30, "because": keep.because}
        for keep in expected.keeps
    ]
    assert data["chance"] == expected.chance.share >= data["hands"][0]["odds"]
    assert data["plan"] == {"aim": list(expected.plan.names), "because": expected.because}
    told = data["outlook"].pop("told")
    assert data["outlook"] == {"chance": data["chance"], "known": "estimated", "half": None, "games": 0}
    assert told.startswith("A hand within the 30 draws to come: ")
    assert "rough estimate" in told
    assert "%" not in told, "an estimate is no number for a player"
    assert data["keeps"][-1]["cost"] == 0


def test_human_answer_is_sentences_and_columns(capsys):
    """Fourteen tiles get a tile to let go, hands, reasons and draws that help; thirteen get no tile to let go."""
    status, out, err = call(capsys, "lantern-street", RACK)
    assert (status, err) == (0, "")
    counts, _, unseen = command.read_tiles(RACK, "", "")
    expected = advise(Moment.of(SheetTable.of(find("lantern-street")), counts, unseen, command.USUAL_DRAWS))
    assert f"Let the {name(expected.let_go)} go. {expected.because}" in out
    assert all(keep.because in out for keep in expected.keeps[:-1])
    rows = [re.split(r"  +", line.strip()) for line in out.splitlines() if line.startswith("  ")]
    hands = [row for row in rows if len(row) == 4 and row[0] != "Hand"]
    assert [row[0] for row in hands] == [one.hand.name for one in expected.hands[: len(hands)]]
    assert [int(row[1]) for row in hands] == [one.missing for one in expected.hands[: len(hands)]]
    assert len(hands) >= 3
    helps = out.partition("The next draws that help most")[2].splitlines()[1:4]
    assert len(helps) == 3
    assert all(re.fullmatch(r"  [a-z0-9]{2}  \d+ unseen, .* picks? sooner", line) for line in helps), helps
    assert out.splitlines()[2].startswith("A hand within the 25 draws to come: ")
    assert "25 draws out of 138 tiles unseen" in out
    assert all(line.isprintable() for line in out.splitlines())
    status, out, err = call(capsys, "lantern-street", *RACK.split()[:-1])
    assert (status, err) == (0, "")
    assert "Let the" not in out
    assert "The next draws that help most: " in out


def test_exposed_groups(capsys):
    """A rack less its exposed groups is enough, jokers in them included; no line names what they rule out."""
    status, out, err = call(
        capsys, "first-steps", "4x1b 4x2b 1c 2c", "--exposed", "KONG 5d jokers 2;", "--draws", "40", "--json"
    )
    assert (status, err) == (0, "")
    for hand in json.loads(out)["hands"]:
        assert ["kong", "5d"] in hand["groups"]
        assert not find("first-steps").hand(hand["hand"]).concealed
    counts, exposures, unseen = command.read_tiles("4x1b 4x2b 1c 2c", "", "kong 5d jokers 2")
    assert sum(counts) + sum(exposure.size for exposure in exposures) == 14
    assert sum(unseen) == sum(full_set()) - 14
    assert unseen[JOKER] == 6


def test_usual_draws_are_never_more_than_the_tiles_unseen():
    """Without --draws it is one seat's share of the wall, or all tiles unseen."""
    assert command.read_draws(None, 138) == 25
    assert command.read_draws(None, 7) == 7
    assert command.read_draws("0", 7) == 0
    assert command.read_draws("7", 7) == 7


BAD = [
    (["lantern-street", "zz"], "“zz” is no tile"),
    (["lantern-street", ""], "no tiles; give 13 or 14"),
    (["lantern-street", "5x1b 4x2b 4x3b"], "but the rack has 5; take 1 away"),
    (["lantern-street", "9xjk 4x2b"], "holds 8 tiles of the kind joker"),
    (["lantern-street", "4x1b 4x2b 4x3b"], "The rack has 12 tiles; give 13 or 14."),
    (["lantern-street", "4x1b 4x2b 4x3b 3x4b"], "The rack has 15 tiles; give 13 or 14."),
    (["lantern-street", "99x1b"], "repeats a tile 99 times"),
    (["lantern-street", RACK, "--shown", "5d 5d"], "rack, shown and exposed tiles together have 5"),
    (["lantern-street", RACK, "--shown", "qq"], "--shown can't be read: “qq” is no tile"),
    (["lantern-street", RACK, "--draws", "139"], "whole number from 0 to 138"),
    (["lantern-street", RACK, "--draws", "-1"], "whole number from 0 to 138"),
    (["lantern-street", RACK, "--draws", "many"], "--draws is “many”; write a whole number"),
    (["lantern-street", RACK, "--draws", "2.5"], "whole number from 0 to 138"),
    (["lantern-street", RACK, "--draws", "²"], "whole number from 0 to 138"),
    (["lantern-street", RACK, "--draws", ""], "whole number from 0 to 138"),
    (["lantern-street", RACK, "--draws", "9" * 5000], "whole number from 0 to 138"),
    (["lantern-street", RACK, "--exposed", "kong 5d"], "give 9 or 10 besides the 4 exposed ones"),
    (["lantern-street", "4x1b 4x2b 1c 2c", "--exposed", "kong"], "is no group; write groups such as"),
    (["lantern-street", "4x1b 4x2b 1c 2c", "--exposed", "pair 5d"], "is a pung, kong, quint or sextet"),
    (["lantern-street", "4x1b 4x2b 1c 2c", "--exposed", "kong 5z"], "“5z” is no tile"),
    (["lantern-street", "4x1b 4x2b 1c 2c", "--exposed", "kong jk"], "name the tile that the jokers stand for"),
    (["lantern-street", "4x1b 4x2b 1c 2c", "--exposed", "kong 5d jokers 4"], "write 0 to 3 jokers"),
    (["lantern-street", "4x1b 4x2b 1c 2c", "--exposed", "kong 5d jokers x"], "write 0 to 3 jokers"),
    (["lantern-street", "4x1b 4x2b 1c 2c", "--exposed", "kong 5d with 1"], "is no group"),
    (["lantern-street", "4x1b 4x2b 1c 2c", "--exposed", "kong 1b"], "together have 8; take 4 away"),
    (["lantern-street", "1b", "--exposed", "kong 1c; kong 2c; kong 3c; kong 4c"], "so name fewer groups"),
    (["no-such-sheet", RACK], "no sheet of that name ships"),
    (["no/such/file.yaml", RACK], "no such file"),
]


@pytest.mark.parametrize(("arguments", "expected"), BAD)
@pytest.mark.slow
def test_bad_input_gets_one_sentence(capsys, arguments, expected):
    """Bad input: exit status 1, one line on standard error that says what to give, nothing on standard output."""
    status, out, err = call(capsys, *arguments)
    assert status == 1
    assert out == ""
    assert expected in err
    assert len(err.splitlines()) == 1


@pytest.mark.parametrize("arguments", [[], ["lantern-street"], ["lantern-street", RACK, "--nonsense"]])
def test_bad_usage_is_status_two(capsys, arguments):
    """A missing or unknown argument is bad usage."""
    status, out, err = call(capsys, *arguments)
    assert status == 2
    assert out == ""
    assert "usage:" in err


def test_a_faulty_sheet_is_told(capsys, tmp_path):
    """The faults of a sheet are printed as `check` prints them."""
    file = tmp_path / "broken.yaml"
    file.write_text("sheet: Broken\n")
    status, out, err = call(capsys, str(file), RACK)
    assert (status, out) == (1, "")
    assert err.startswith(f"{file}:")


def test_tiles_may_be_characters(capsys):
    """A rack of Unicode tile characters reads like one of codes."""
    codes = call(capsys, "first-steps", "4x1b 4x2b 4x3b 4b", "--json")
    characters = call(capsys, "first-steps", "🀐🀐🀐🀐🀑🀑🀑🀑🀒🀒🀒🀒🀓", "--json")
    assert characters == codes
    assert codes[0] == 0


@pytest.mark.slow
def test_choices_can_be_tried_out(capsys):
    """With --try the odds of a hand come with an interval, and JSON gains what was tried; the rest is as deepened."""
    arguments = ("first-steps", RACK, "--draws", "30", "--try")
    counts, _, unseen = command.read_tiles(RACK, "", "")
    expected = deepen(Moment.of(SheetTable.of(find("first-steps")), counts, unseen, 30))
    status, out, err = call(capsys, *arguments)
    assert (status, err) == (0, "")
    assert f"Let the {name(expected.let_go)} go." in out
    assert "A hand within the 30 draws to come: " in out
    assert f"played out {expected.chance.games} times from here" in out
    data = json.loads(call(capsys, *arguments, "--json")[1])
    assert list(data) == ["draws", "chance", "plan", "hands", "keeps", "outlook", "tried"]
    assert data["outlook"]["chance"] == data["chance"] == expected.chance.share
    assert [one["tile"] for one in data["tried"]] == [code(keep.kind) for keep in expected.keeps if keep.games]
    assert all(one["games"] > 0 and one["half"] >= 0 for one in data["tried"])
    exact = json.loads(call(capsys, "first-steps", RACK, "--draws", "1", "--try", "--json")[1])
    assert exact["outlook"]["games"] == 0
