"""Drafts on the disk: kept within a second, whole or not at all, and read whatever state they are in."""

import json
import time
from dataclasses import replace

import pytest

from engine.sheet.shelf import find
from engine.sheet.writing.document import Place
from game.play.writing.drafts import About, Drafts, read_text
from game.play.writing.keeping import Keeping
from game.play.writing.starting import begin, go_on, open_file
from game.words.writing import draft_words

TEXT = find("first-steps").canonical


def test_a_draft_comes_back_as_it_was_left(tmp_path):
    """Text, place and counts; undo begins anew."""
    drafts = Drafts(tmp_path / "drafts")
    writing = begin(drafts, TEXT)
    writing.go(Place(0, 1))
    writing.put("hand", "Wet pier")
    writing.leave()
    again = go_on(drafts, writing.draft)
    assert again.document.text == writing.document.text
    assert (again.place, again.name) == (Place(0, 1), "First Steps")
    assert not again.history.can_undo
    (note,) = drafts.notes()
    assert (note.about.name, note.about.hands, note.about.whole) == ("First Steps", 12, -1), "none was looked at"
    assert draft_words(note).startswith("12 hands. ")
    again.playable()
    again.leave()
    (note,) = drafts.notes()
    assert draft_words(note).startswith("All 12 hands are whole. ")
    note = replace(note, about=replace(note.about, done=True))
    assert draft_words(note).startswith("All 12 hands are whole, done. Last worked on ")


def test_what_is_beside_a_draft_may_be_lost(tmp_path):
    """Any nonsense beside the text: the text alone makes a draft."""
    drafts = Drafts(tmp_path / "drafts")
    draft = begin(drafts, TEXT).draft
    beside = tmp_path / "drafts" / f"{draft}.json"
    for nonsense in ("", "{", "[]", "\x00", json.dumps({"name": 3, "hand": "x", "hands": True, "more": 1}), "[" * 5000):
        beside.write_text(nonsense, encoding="utf-8")
        assert drafts.about(draft) == About()
        assert go_on(drafts, draft).document.text == TEXT
    beside.unlink()
    assert len(drafts.notes()) == 1
    (tmp_path / "drafts" / f"{draft}.yaml").write_bytes(b"sheet: \xff\xfe\n" + TEXT.encode())
    assert "First Steps" in go_on(drafts, draft).document.text


@pytest.mark.slow
def test_the_last_whole_text_is_kept_beside(tmp_path):
    """A text without a fault stays when a fault is typed after it, and is offered until then no more."""
    writing = begin(Drafts(tmp_path / "drafts"), TEXT)
    writing.playable()
    writing.say_done(True)
    writing.keeping.flush()
    assert writing.good == ""
    writing.go(Place(0, 0))
    writing.put("groups", "pong")
    writing.playable()
    writing.keeping.flush()
    assert writing.good == TEXT
    writing.take_good()
    assert writing.document.text == TEXT


@pytest.mark.slow
def test_typing_is_on_the_disk_within_a_second(tmp_path):
    """Nobody asks for it: what was typed is in the file soon after, and the last of it counts."""
    drafts = Drafts(tmp_path / "drafts")
    writing = begin(drafts, TEXT)
    writing.go(Place(0, 0))
    for number in range(5):
        writing.put("hand", f"Wet pier {number}")
    until = time.monotonic() + 10
    while not writing.keeping.settled and time.monotonic() < until:
        time.sleep(0.02)
    assert "Wet pier 4" in drafts.text(writing.draft)


def test_trouble_is_said_and_ends():
    """A disk that refuses is a sentence; the next writing that works ends it."""
    keeping = Keeping()

    def refused():
        raise OSError(28, "No space left on device")

    keeping.change(refused)
    keeping.flush()
    assert "No space left" in keeping.trouble
    keeping.change(lambda: None)
    keeping.flush()
    assert keeping.trouble == ""
    assert keeping.settled


def test_files_that_are_no_text_are_refused(tmp_path):
    """A folder, too long a file, another encoding: one sentence each, and nothing begun."""
    drafts = Drafts(tmp_path / "drafts")
    (tmp_path / "long.yaml").write_text("x" * 300_000)
    (tmp_path / "wide.yaml").write_bytes("sheet: x".encode("utf-16"))
    (tmp_path / "latin.yaml").write_bytes(b"sheet: \xe9\n")
    for name, said in (("long", "larger than"), ("wide", "no text in UTF-8"), ("latin", "no text in UTF-8")):
        with pytest.raises(ValueError, match=said):
            open_file(drafts, tmp_path / f"{name}.yaml")
    with pytest.raises(ValueError, match="no ordinary file"):
        read_text(tmp_path)
    with pytest.raises(OSError):  # noqa: PT011
        open_file(drafts, tmp_path / "none.yaml")
    assert drafts.notes() == ()


def test_a_file_opened_again_goes_on_with_its_draft(tmp_path):
    """One draft a file, as long as the file is as it was seen."""
    drafts = Drafts(tmp_path / "drafts")
    file = tmp_path / "ours.yaml"
    file.write_text(TEXT, encoding="utf-8")
    writing, faults = open_file(drafts, file)
    assert faults == ()
    writing.go(Place(0, 0))
    writing.put("hand", "Wet pier")
    writing.leave()
    assert "Wet pier" in open_file(drafts, file)[0].document.text
    file.write_text(f"# changed\n{TEXT}", encoding="utf-8")
    assert "Wet pier" not in open_file(drafts, file)[0].document.text
    assert len(drafts.notes()) == 2
