"""Undo and redo over a document: every state that was left can be come back to."""

from __future__ import annotations

from dataclasses import dataclass

from engine.sheet.writing.document import Document, Place

MOST = 2000
"""Steps that are remembered; documents share their pieces, so that one more costs little."""


@dataclass(frozen=True)
class Step:
    """A document and the place that was worked on."""

    document: Document
    place: Place
    joins: str = ""
    """What is typed in one go bears one word here, and is one step."""


class History:
    """The states of a document, with a cursor."""

    def __init__(self, document: Document, place: Place) -> None:
        self._steps = [Step(document, place)]
        self._now = 0

    @property
    def now(self) -> Step:
        """The present state."""
        return self._steps[self._now]

    @property
    def can_undo(self) -> bool:
        """Whether there is an earlier state."""
        return self._now > 0

    @property
    def can_redo(self) -> bool:
        """Whether something was undone and can be done again."""
        return self._now + 1 < len(self._steps)

    def change(self, document: Document, place: Place, joins: str = "") -> None:
        """A new state. One that joins the last state takes its place; what was undone is given up."""
        if document == self.now.document:
            self._steps[self._now] = Step(document, place, self.now.joins)
            return
        del self._steps[self._now + 1 :]
        if joins and joins == self.now.joins and self._now > 0:
            self._steps[self._now] = Step(document, place, joins)
            return
        self._steps.append(Step(document, place, joins))
        del self._steps[:-MOST]
        self._now = len(self._steps) - 1

    def go(self, place: Place) -> None:
        """Another place is worked on; that is no step of its own, but what is typed next is."""
        self._steps[self._now] = Step(self.now.document, place)

    def undo(self) -> Step:
        """The state before, or the present one if it is the first."""
        self._now = max(self._now - 1, 0)
        return self._come_back()

    def redo(self) -> Step:
        """The state after, or the present one if it is the last."""
        self._now = min(self._now + 1, len(self._steps) - 1)
        return self._come_back()

    def _come_back(self) -> Step:
        step = self.now
        if step.joins:  # what is typed now is a step of its own
            step = self._steps[self._now] = Step(step.document, step.place)
        return step
