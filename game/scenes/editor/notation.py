"""How a hand is written, by examples, in a popup over the editor."""

from __future__ import annotations

from game.draw.theme import BODY, BODY_BOLD, TEAL
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.popups import pane_of
from game.ui.scene import Popup
from game.ui.widgets import Ui

NOTATION = (
    ("quint a.5", "Five tiles alike: the 5 of any suit. A group is a size and a tile; commas stand between groups."),
    ("pair a.5, pung b.5", "Suits a, b and c are any suits, each another. Write bam, crak or dot for that very suit."),
    ("pung a.n, pung a.n+1", "Here n is any number from which both stay within 1 to 9: two numbers in a row."),
    ("kong flower, pair wind east, pung dragon red", "Flowers, winds and dragons by name; zero is the white dragon."),
    ("pung wind u", "Here u is any wind."),
    ("pair dragon of a", "The dragon that goes with suit a: green with bams, red with craks, white with dots."),
    ("single each wind, single season a", "One of each wind; the digits of the sheet’s season in suit a."),
    (
        "n odd; x < y; x + y = z",
        "Clauses narrow the letters. Semicolons stand between them; there may be none.",
    ),
)
"""Examples of the notation, each with what it says."""


class NotationHelp(Popup):
    """Example after example, each with what it says."""

    def paint(self, ui: Ui) -> None:
        """A list to read."""

        def fill(column: Column) -> None:
            column.heading("How a hand is written")
            column.gap(6)
            column.text("A hand is fourteen tiles in groups. The keys beside the form write all of this for you.", BODY)
            for written, said in NOTATION:
                column.gap(10)
                column.text(written, BODY_BOLD, TEAL)
                column.text(said, BODY)

        pane_of(ui, 760, "notation", fill, [Press("Back", self.back, "escape", main=True)])
