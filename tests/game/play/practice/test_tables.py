"""Everything as CSV: it reads back, says what its columns hold, no cell is a formula, nothing is replaced unasked."""

import csv
import io
import json
from datetime import UTC, date, datetime

import pytest

from engine.drills.grades import Grade, Skill
from engine.sheet.shelf import find
from engine.store.store import Store
from game.command_line import main
from game.play.practice.drilling import Drilling
from game.play.practice.tables import CsvTable, FilesThereError, all_tables, safe, write_tables
from game.window.demo import season

DAY = date(2026, 3, 4)


@pytest.fixture
def store(tmp_path):
    """A store with six games and a drill."""
    now = datetime(2026, 3, 4, 12, tzinfo=UTC)
    with Store(tmp_path / "store.sqlite", now=lambda: now) as opened:
        season(opened, find("first-steps"), 6, lambda _: None)
        drilling = Drilling(opened, find("first-steps"), now=lambda: now)
        question = drilling.question(drilling.next_of(Skill.LAY))
        drilling.answered(question, Grade.RIGHT, 9.0)
        yield opened


def read(text):
    """The rows of a CSV text as a spreadsheet reads them."""
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"))))


def test_every_table_reads_back(store):
    """Each row has a cell for each column, and the counts are those of the store."""
    tables = {table.name: table for table in all_tables(store, [find("first-steps")], DAY)}
    assert list(tables) == ["games", "choices", "passes", "drills", "ledger", "cards"]
    for table in tables.values():
        assert all(len(row) == len(table.columns) for row in table.rows), table.name
        assert len(read(table.to_csv())) == len(table.rows)
    assert len(tables["games"].rows) == len(tables["choices"].rows) == 6
    assert len(tables["drills"].rows) == sum(one.kind.startswith("drill ") for one in store.results()) > 6
    assert len(tables["ledger"].rows) == 12
    assert len(tables["cards"].rows) == len(Drilling(store, find("first-steps")).schedule.memories) > 6
    won = sum(row["won"] == "1" for row in read(tables["games"].to_csv()))
    wins = sum(
        int(row[name])
        for row in read(tables["ledger"].to_csv())
        for name in ("quiet_hidden", "quiet_seen", "full_hidden", "full_seen", "wanted", "ticked")
    )
    assert won == wins


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@a", "\t=1", "\r=1"])
def test_no_cell_is_a_formula(text):
    """The signs that OWASP names under “CSV Injection”; numbers stay numbers."""
    assert safe(text) == f"'{text}"
    assert safe(-1.5) == "-1.5"
    assert safe("Moth = moth") == "Moth = moth"
    table = CsvTable("t", {"a": "text"}, (('=HYPERLINK("x","y")',), ('say "so", twice\nand again',)))
    assert [row["a"] for row in read(table.to_csv())] == ['\'=HYPERLINK("x","y")', 'say "so", twice\nand again']


def test_nothing_is_replaced_unasked(tmp_path):
    """A file that is there stays as it is, and so do the others; when asked it is replaced."""
    one, two = CsvTable("one", {"a": "a number"}, ((1,),)), CsvTable("two", {"b": "ü"}, (("ü",),))
    (tmp_path / "two.csv").write_text("mine")
    with pytest.raises(FilesThereError) as refused:
        write_tables([one, two], tmp_path)
    assert refused.value.names == ("two.csv",)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["two.csv"]
    assert (tmp_path / "two.csv").read_text() == "mine"
    write_tables([one, two], tmp_path, replace=True)
    assert read((tmp_path / "two.csv").read_text(encoding="utf-8")) == [{"b": "ü"}]
    assert "two.csv\n  b: ü" in (tmp_path / "columns.txt").read_text(encoding="utf-8")


def test_the_command_writes_and_says_where(tmp_path, monkeypatch, capsys):
    """Into a new folder; a second time it refuses in one sentence, and a folder that is a file, too."""
    monkeypatch.setenv("LONE_EAST_DATA", str(tmp_path / "data"))
    folder = tmp_path / "out"
    assert main(["export", str(folder)]) == 0
    assert "games.csv: 0 rows" in capsys.readouterr().out
    assert main(["export", str(folder)]) == 1
    assert "choose another folder, or add --replace." in capsys.readouterr().err
    assert main(["export", str(folder), "--replace"]) == 0
    capsys.readouterr()
    assert main(["export", str(folder / "games.csv")]) == 1
    assert capsys.readouterr().err.count("\n") == 1


def test_the_progress_command(tmp_path, monkeypatch, capsys):
    """In sentences and as one JSON object; an unknown sheet is refused."""
    monkeypatch.setenv("LONE_EAST_DATA", str(tmp_path / "data"))
    assert main(["progress"]) == 0
    assert "No game played to its end yet." in capsys.readouterr().out
    assert main(["progress", "--json", "--sheet", "first-steps"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["sheet"] == "First Steps"
    assert found["games"]["quiet"] == {"good": 0, "of": 0, "within": None}
    assert main(["progress", "--sheet", "no-such-sheet"]) == 1
