"""The write-ahead log beside a store's file: whether it is whole, and its pages even where it is not.

Follows "Database File Format" (https://www.sqlite.org/fileformat2.html), 4.1 WAL File Format and 4.2 The Checksum
Algorithm. SQLite itself stops at the first frame whose checksum is wrong and says nothing of those behind it.
"""

from __future__ import annotations

import struct
import sys
from dataclasses import dataclass

_HEADER, _FRAME = 32, 24
_INDEX_HEAD = 48
_READY, _COMPLETE, _IN_MAIN = 12, 16, 96  # where the index has them
HIGHEST_PAGE = 1 << 20
"""A page number above this stands in no store. A damaged one may."""
_MAGIC = (0x377F0682, 0x377F0683)  # the last bit tells whether checksums are big-endian

Salts = bytes
"""Eight bytes that every frame of one log begins with. They change when SQLite begins the log anew."""


@dataclass(frozen=True)
class LoggedPage:
    """One page as the log has it."""

    number: int
    """Of the page, from 1."""
    page: bytes
    sound: bool
    """Whether its checksum is right, and that of every frame before it."""


@dataclass(frozen=True)
class Log:
    """The frames of a log, oldest first. What is left over from an earlier log is not among them."""

    frames: tuple[LoggedPage, ...] = ()
    damaged: bool = False
    """Whether a transaction that was complete can't be read. Frames without the mark that ends a transaction, and a
    page that was cut short, are what a crash leaves: no damage."""
    cut: bool = False
    """Whether it is the last transaction that can't be read, so that what was done last may be missing."""
    torn: bytes = b""
    """The page at the end of a log that was cut in the middle of it, filled up with zeros; else nothing."""

    @property
    def pages(self) -> dict[int, bytes]:
        """The newest page of every number."""
        return {frame.number: frame.page for frame in self.frames}


def read_log(content: bytes, page_size: int) -> Log:
    """The log that these bytes hold, for a file with pages of `page_size` bytes."""
    if len(content) < _HEADER + _FRAME:
        return Log()  # not even the head of a page
    header_is_sound, big = _header(content, page_size)
    parts = [content[start : start + _FRAME + page_size] for start in range(_HEADER, len(content), _FRAME + page_size)]
    rest = parts.pop() if len(parts[-1]) < _FRAME + page_size else b""
    if not parts and not header_is_sound:
        return Log()  # not even one page
    salts = content[16:24] if header_is_sound else _likely_salts(parts)
    running: tuple[int, int] = struct.unpack_from(">II", content, 24)
    frames: list[LoggedPage] = []
    last_commit, sound = -1, header_is_sound
    first_wrong = len(parts)
    for place, one in enumerate(parts):
        number, size = struct.unpack_from(">II", one)
        ours = _belongs(one, salts)
        if sound:
            running = checksum(one[:8] + one[_FRAME:], running, big)
            sound = one[8:16] == salts and running == struct.unpack_from(">II", one, 16)
        if not sound:
            first_wrong = min(first_wrong, place)
        if ours and 0 < number <= HIGHEST_PAGE:
            frames.append(LoggedPage(number, one[_FRAME:], sound))
        if ours and size:
            last_commit = place
    torn = rest[_FRAME:].ljust(page_size, b"\0") if len(rest) > _FRAME and _belongs(rest, salts) else b""
    damaged = not header_is_sound or first_wrong <= last_commit
    return Log(tuple(frames), damaged, first_wrong == last_commit, torn)


def has_lost_its_end(content: bytes, log: Log, index: bytes) -> bool:
    """Whether a log lacks sound frames that the index beside it (the file with -shm) says were complete.

    SQLite keeps in the index how many frames count, and how many of them stand in the main file too: "WAL-mode File
    Format" (https://www.sqlite.org/walformat.html), 2.1 The WAL-Index Header. A crash leaves the two in agreement.
    """
    head, again = index[:_INDEX_HEAD], index[_INDEX_HEAD : 2 * _INDEX_HEAD]
    if len(index) < _IN_MAIN + 4 or head != again or not head[_READY]:
        return False
    if checksum(head[:40], (0, 0), sys.byteorder == "big") != struct.unpack_from("=II", head, 40):
        return False
    if len(content) >= _HEADER and content[16:24] != head[32:40]:
        return False  # the index of another log
    promised, in_main = (int(struct.unpack_from("=I", index, place)[0]) for place in (_COMPLETE, _IN_MAIN))
    return promised > max(in_main, sum(frame.sound for frame in log.frames))


def _belongs(frame: bytes, salts: Salts) -> bool:
    """Whether a frame is of the log with these salts. One half of them may be damaged: an older log has neither."""
    return frame[8:12] == salts[:4] or frame[12:16] == salts[4:]


def _header(content: bytes, page_size: int) -> tuple[bool, bool]:
    """Whether the log's header is sound, and whether its checksums are big-endian."""
    magic, _, size = struct.unpack_from(">III", content)
    big = magic == _MAGIC[1]
    sums = checksum(content[:24], (0, 0), big)
    return magic in _MAGIC and size == page_size and sums == struct.unpack_from(">II", content, 24), big


def _likely_salts(raw: list[bytes]) -> Salts:
    """The salts of a log whose header is damaged: those that its first frames have most often."""
    firsts = [one[8:16] for one in raw[:3]]
    return max(firsts, key=firsts.count) if firsts else b""


def checksum(data: bytes, start: tuple[int, int], big: bool) -> tuple[int, int]:
    """The two running sums of 4.2 over data whose length is a multiple of eight."""
    first, second = start
    words = struct.unpack(f"{'>' if big else '<'}{len(data) // 4}I", data)
    for place in range(0, len(words), 2):
        first = (first + words[place] + second) & 0xFFFFFFFF
        second = (second + words[place + 1] + first) & 0xFFFFFFFF
    return first, second
