"""What a sheet leans on, on paper: sentences, every tile with the hands that want it, and the orders of groups."""

from __future__ import annotations

from engine.sheet.study.counts import Study
from engine.tiles import BAMS, CRAKS, DOTS, DRAGONS, FLOWER, WINDS, name
from engine.words import counted
from game.draw.theme import SOFT
from game.paper.page import SIZE, SMALL, Paper
from game.paper.tiles import height_for
from game.words.study import sentences, shape_words

MOST_SENTENCES = 14
MOST_SHAPES = 12
TILE = 26.0
COLUMN = 56.0
"""Points from one tile to the next in the table of tiles."""
BAR = 150.0


def print_study(paper: Paper, study: Study) -> None:
    """A page or two about a sheet."""
    paper.heading(f"What {study.sheet.name} leans on")
    paper.text(
        f"{counted(study.hands, 'hand')}, which can be made in {counted(study.variants, 'way')}; "
        f"{study.concealed} concealed.", SIZE, colour=SOFT,
    )  # fmt: skip
    paper.gap(4)
    for said in sentences(study, MOST_SENTENCES):
        paper.text(said)
        paper.gap(3)
    paper.heading("Who wants which tile", 1, keep=70)
    paper.text("Under each tile: how many hands of the sheet have a way that needs it.", SMALL, colour=SOFT)
    paper.gap(4)
    for kinds in (BAMS, CRAKS, DOTS, (*WINDS, *DRAGONS, FLOWER)):
        _tiles(paper, study, tuple(kinds))
    paper.heading("Orders of groups", 1, keep=40)
    for shape, hands in study.shapes[:MOST_SHAPES]:
        paper.measure(f"{shape_words(shape)}", hands, study.shapes[0][1], counted(hands, "hand"))
    rest = len(study.shapes) - MOST_SHAPES
    if rest > 0:
        paper.text(
            f"And {counted(rest, 'other')}, each in {study.shapes[MOST_SHAPES][1]} or fewer.", SMALL, colour=SOFT
        )
    paper.heading("Sections", 1, keep=40)
    most = max(len(section.hands) for section in study.sheet.sections)
    for section in study.sheet.sections:
        ways = sum(len(hand.variants) for hand in section.hands)
        said = f"{counted(len(section.hands), 'hand')}, {counted(ways, 'way')}"
        paper.measure(section.name, len(section.hands), most, said)


def _tiles(paper: Paper, study: Study, kinds: tuple[int, ...]) -> None:
    high = height_for(TILE) + 18
    paper.need(high)
    paper.y -= high
    said = ", ".join(f"{name(kind)} {study.tiles[kind].hands}" for kind in kinds)

    def draw() -> float:
        for place, kind in enumerate(kinds):
            x = paper.left + place * COLUMN
            paper.tiles.draw(kind, x, paper.y + 16, TILE)
            paper.write(str(study.tiles[kind].hands), x, paper.y + 4, SIZE, bold=True)
        return paper.left + len(kinds) * COLUMN

    paper.said(f"Hands that want each tile: {said}.", draw)
