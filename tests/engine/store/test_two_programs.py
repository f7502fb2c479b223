"""Two programs on one file: both work, no entry is lost, and neither mixes its actions into the other's."""

import pytest

from engine.rules.actions import Discard
from engine.store.store import Store
from engine.store.values import StoreError


@pytest.mark.slow
def test_two_programs_write_at_the_same_time_and_nothing_is_lost(child, path):
    """Each plays deals of its own into the same file, as fast as it can; every entry of both is there."""
    Store(path).close()
    code = """
store = Store(path)
store.add_sheet(sheet)
print("ready", flush=True)
sys.stdin.readline()
for _ in range(6):
    line = store.start_line(header)
    for number in range(25):
        assert store.append(line, int(sys.argv[2]), Discard(number)) == number + 1
    print(line)
assert store.trouble is None
store.close()
"""
    programs = [child(code, path, seat) for seat in range(3)]
    for program in programs:
        assert program.stdout.readline() == "ready\n"
    for program in programs:
        program.stdin.write("go\n")
        program.stdin.flush()
    lines = {}
    for seat, program in enumerate(programs):
        out, complaints = program.communicate(timeout=120)
        assert program.returncode == 0, complaints
        lines |= {int(line): seat for line in out.split()}
    assert len(lines) == 18
    with Store(path) as store:
        assert len(store.sheets()) == 1
        for line, seat in lines.items():
            assert list(store.record(line).entries) == [(seat, Discard(number)) for number in range(25)]


@pytest.mark.slow
def test_programs_that_start_on_a_new_file_at_once_all_open_it(child, path):
    """The tables are made once, whoever comes first."""
    code = """
print("ready", flush=True)
sys.stdin.readline()
with Store(path) as store:
    assert store.trouble is None, store.trouble
    store.set(sys.argv[2], True)
"""
    programs = [child(code, path, number) for number in range(4)]
    for program in programs:
        assert program.stdout.readline() == "ready\n"
    for program in programs:
        program.stdin.write("go\n")
        program.stdin.flush()
    for program in programs:
        _, complaints = program.communicate(timeout=60)
        assert program.returncode == 0, complaints
    with Store(path) as store:
        assert set(store.settings()) == {"0", "1", "2", "3"}


def test_a_deal_carried_on_elsewhere_takes_no_action_of_ours(store, header):
    """The second window to play on in one deal is told so, and can fork what it saw, or open it again."""
    line = store.start_line(header())
    store.append(line, 0, Discard(1))
    with Store(store.path) as other:
        assert other.trouble is None
        assert len(other.record(line).entries) == 1
        other.append(line, 0, Discard(2))
        with pytest.raises(StoreError, match="carried on in another window"):
            store.append(line, 0, Discard(3))
        child = store.fork(line, 1)
        assert store.append(child, 0, Discard(3)) == 2
        assert [action for _, action in store.record(line).entries] == [Discard(1), Discard(2)]
        assert store.append(line, 0, Discard(4)) == 3
        assert [action for _, action in other.record(line).entries] == [Discard(1), Discard(2), Discard(4)]


def test_what_one_program_keeps_the_other_sees(store, header):
    """Settings and notes are never read from an old copy."""
    line = store.start_line(header())
    with Store(store.path) as other:
        other.set("scale", 150)
        note = other.note(line, "first")
        assert store.get("scale") == 150
        store.change_note(note, "second")
        assert [found.text for found in other.notes(line)] == ["second"]
        other.remove_note(note)
        with pytest.raises(StoreError, match="no note numbered"):
            store.change_note(note, "third")


@pytest.mark.slow
def test_the_second_program_says_so_in_one_sentence(child, path):
    """For as long as the first one runs, and not any longer; nothing is wrong with either."""
    code = """
with Store(path) as store:
    assert store.also_open is None
    print("ready", flush=True)
    sys.stdin.readline()
"""
    first = child(code, path)
    assert first.stdout.readline() == "ready\n"
    with Store(path) as second:
        assert second.also_open.startswith("Lone East is open in another window too; both save")
        assert "\n" not in second.also_open
        assert (second.trouble, second.saving) == (None, True)
        first.communicate("go\n", timeout=60)
        assert first.returncode == 0
    first = child(code, path)
    assert first.stdout.readline() == "ready\n"
    first.kill()
    first.communicate()
    with Store(path) as after:
        assert after.also_open is None
