"""Cuts the text of a sheet file into its pieces, whatever state the file is in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from engine.sheet.reader import MOST_BYTES
from engine.sheet.tree import Listing, Mapping, Node, Refused, Scalar, tree
from engine.sheet.writer import scalar
from engine.sheet.writing.document import Document, SectionText, ended

_DASH = re.compile(r"[ ]*-[ ]+")
_ITEM = re.compile(r"^[ \t]*-[ \t]+[\"']?(section|hand)[\"']?[ \t]*:", re.MULTILINE)
_REMARK = re.compile(r"(?:(?<=\s)|^)#[^\r\n]*", re.MULTILINE)


@dataclass(frozen=True)
class Cut:
    """The pieces of a file. `rewritten`: the file was in YAML's short form (brackets) and was written out line by line
    for the pieces; its remarks stand at the top then."""

    document: Document
    rewritten: bool = False


def cut(text: str) -> Cut:
    """The pieces of a file's text. Never fails: what can't be told apart stays in the piece before.

    A byte order mark is left out, and the last line is ended; else the pieces put together are the text.
    """
    text = ended(text.removeprefix("\ufeff"))
    if len(text) > MOST_BYTES:  # no sheet, and too long to look through
        return Cut(Document(text))
    faults: list[int] = []
    root = tree(text, lambda at, _: faults.append(at))
    if faults:  # YAML itself is broken somewhere: the lines that begin sections and hands can be told all the same
        return Cut(_pieces(text, [(found.start(), found[1] == "hand") for found in _ITEM.finditer(text)]))
    starts = list(_starts(root))
    if all(_is_lined(text, node) for node in _nodes(root)) and all(_has_dash(text, at) for at, _ in starts):
        return Cut(_pieces(text, [(_line_start(text, at), hand) for at, hand in starts]))
    written = ended("\n".join([*_remarks(text, root), *_rows(root)]))
    return Cut(cut(written).document, rewritten=True)


def _starts(root: Node | None) -> Iterator[tuple[int, bool]]:
    """Where each section and hand begins; True for a hand."""
    for section in _listed(root, "sections"):
        yield section.start, False
        for hand in _listed(section, "hands"):
            yield hand.start, True


def _listed(node: Node | None, key: str) -> tuple[Node, ...]:
    """The items of the list under a key; none where there is no such list."""
    for name, value in node.items if isinstance(node, Mapping) else ():
        if name.value == key and isinstance(value, Listing):
            return value.items
    return ()


def _nodes(node: Node | None) -> Iterator[Node]:
    """A node and all nodes in it."""
    if node is not None:
        yield node
    if isinstance(node, Listing):
        for item in node.items:
            yield from _nodes(item)
    elif isinstance(node, Mapping):
        for key, value in node.items:
            yield key
            yield from _nodes(value)


def _is_lined(text: str, node: Node) -> bool:
    """Whether a list or mapping is written line by line, and not in brackets. An empty list may stand in brackets."""
    if isinstance(node, (Scalar, Refused)):
        return True
    return not node.items or text[node.start : node.start + 1] not in ("[", "{")


def _line_start(text: str, at: int) -> int:
    return text.rfind("\n", 0, at) + 1


def _has_dash(text: str, at: int) -> bool:
    """Whether an item begins on the line of its own dash."""
    return _DASH.fullmatch(text, _line_start(text, at), at) is not None


def _pieces(text: str, starts: list[tuple[int, bool]]) -> Document:
    """Cut at lines that begin a section (False) or a hand (True). Remarks and blank lines right above go with them."""
    edges = [_above(text, at) for at, _ in starts]
    end = _above(text, len(text)) if starts else len(text)
    edges = [*edges, max(end, edges[-1] if edges else 0)]
    head = text[: edges[0]] if starts else text
    sections: list[SectionText] = []
    for (_, hand), start, stop in zip(starts, edges, edges[1:], strict=False):
        if not hand:
            sections.append(SectionText(text[start:stop]))
        else:
            last = sections.pop() if sections else SectionText("")
            sections.append(SectionText(last.head, (*last.hands, text[start:stop])))
    return Document(head, tuple(sections), text[edges[-1] :] if starts else "")


def _above(text: str, at: int) -> int:
    """Where the blank lines and remarks begin that stand right above a line."""
    while at > 0:
        start = _line_start(text, at - 1)
        line = text[start:at].strip()
        if line and not line.startswith("#"):
            return at
        at = start
    return at


def _remarks(text: str, root: Node | None) -> list[str]:
    """All remarks of a file, in order."""
    spans = [(node.start, node.end) for node in _nodes(root) if isinstance(node, Scalar)]
    found = [match for match in _REMARK.finditer(text) if not any(a <= match.start() < b for a, b in spans)]
    return [match.group().rstrip() for match in found]


def _rows(node: Node | None, indent: int = 0) -> list[str]:
    """A node written line by line."""
    pad = " " * indent
    rows: list[str] = []
    if isinstance(node, Mapping):
        for key, value in node.items:
            if isinstance(value, Scalar):
                rows.append(f"{pad}{scalar(key.value)}: {_text(value)}")
            else:
                rows += [f"{pad}{scalar(key.value)}:", *_rows(value, indent + 2)]
    elif isinstance(node, Listing):
        for item in node.items:
            inner = _rows(item, indent + 2)
            rows += [f"{pad}- {inner[0][indent + 2 :]}", *inner[1:]] if inner else []
    elif isinstance(node, Scalar):
        rows.append(f"{pad}{_text(node)}")
    return rows


def _text(node: Scalar) -> str:
    """A text on one line; one that lines can't hold in single quotes is put in double ones."""
    if node.value.isprintable():
        return scalar(node.value)
    body = "".join(char if char.isprintable() and char not in '"\\' else f"\\U{ord(char):08X}" for char in node.value)
    return f'"{body}"'
