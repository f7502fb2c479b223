"""A line of groups as a list: its groups by number, one added, changed, taken out or moved, all else as typed."""

from __future__ import annotations

from dataclasses import dataclass

from engine.sheet.parsing import NotationError, parse_group


@dataclass(frozen=True)
class GroupPart:
    """One group of a line as typed, without the blanks around it, and where it stands."""

    text: str
    start: int
    end: int

    @property
    def whole(self) -> bool:
        """Whether it can be read."""
        try:
            parse_group(self.text)
        except NotationError:
            return False
        return True


def parts_of(line: str) -> tuple[GroupPart, ...]:
    """The groups of a line, the empty ones between commas too; none for an empty line."""
    if not line.strip():
        return ()
    found = []
    start = 0
    for text in line.split(","):
        begun = start + len(text) - len(text.lstrip())
        found.append(GroupPart(text.strip(), begun, begun + len(text.strip())))
        start += len(text) + 1
    return tuple(found)


def part_at(line: str, caret: int) -> int:
    """The number of the group in which the caret stands."""
    return line.count(",", 0, caret)


def put_group(line: str, group: str, caret: int, instead: int | None = None) -> tuple[str, int]:
    """The line with one more group, and the caret behind it.

    It takes the place of the group of the number `instead`, or of what is begun at the caret and can't be read; else it
    stands after the group at the caret.
    """
    parts = parts_of(line)
    if not parts:
        return group, len(group)
    number = min(part_at(line, caret), len(parts) - 1) if instead is None else min(instead, len(parts) - 1)
    part = parts[number]
    if instead is not None or not part.whole:
        before = line[: part.start]
        head = f"{before} {group}" if before.endswith(",") else before + group
        return head + line[part.end :], len(head)
    head = f"{line[: part.end]}, {group}"
    return head + line[part.end :].removeprefix(" "), len(head)


def take_out(line: str, number: int) -> tuple[str, int]:
    """The line without a group, and the caret behind the one before."""
    parts = parts_of(line)
    if not 0 <= number < len(parts):
        return line, len(line)
    if len(parts) == 1:
        return "", 0
    if number == 0:
        return line[parts[1].start :], 0
    end = parts[number - 1].end
    return line[:end] + line[parts[number].end :], end


def swap_groups(line: str, number: int, step: int) -> tuple[str, int]:
    """The line with a group and its neighbour changed over, and the caret behind the group."""
    parts = parts_of(line)
    if not (0 <= number < len(parts) and 0 <= number + step < len(parts)):
        return line, len(line)
    first, second = sorted((number, number + step))
    one, other = parts[first], parts[second]
    changed = line[: one.start] + other.text + line[one.end : other.start] + one.text + line[other.end :]
    moved = parts_of(changed)[number + step]
    return changed, moved.end
