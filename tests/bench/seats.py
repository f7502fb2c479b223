"""Many whole games of the simulated players: what they win with, how games end, and who is stronger, with intervals.

    python tests/bench/seats.py --games 10000

Half of the games are played by four players of one strength, the others by mixed tables: for each two strengths one
against three, both ways and in every seat, with the same deals. Every game is looked over for faults: an exception, an
action that is not offered, tiles lost or gained, a winner whose tiles a slow matcher of its own finds wanting. The last
line sums up.
"""

from __future__ import annotations

import argparse
import math
import os
import sys
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from itertools import combinations, islice
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the cores are shared out by process
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not

from engine.advice.table import SheetTable
from engine.rules.deal import SEEDS, shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Exposure, Phase, State
from engine.seats.character import Strength
from engine.seats.players import SeatPlayer, player
from engine.sheet.groups import Variant
from engine.sheet.model import Sheet
from engine.sheet.shelf import find
from engine.tiles import JOKER, full_set

HOUSE = House(table=FULL, passes=6, courtesy=True)
PAIRS = tuple(combinations(reversed(Strength), 2))
"""Every two strengths, the stronger first."""
LINE_UPS = 8
"""Games that a pair of strengths plays with one deal: the lone player of either strength in every seat."""
BATCH = 24


@dataclass(frozen=True)
class Job:
    """One game to be played."""

    seed: int
    strengths: tuple[Strength, ...]
    pair: int = -1
    """Which of PAIRS plays, -1 for four of one strength."""


@dataclass
class Played:
    """One game as it was played."""

    job: Job
    faults: list[str] = field(default_factory=list)
    hand: str = ""
    section: str = ""
    winner: int = -1
    self_drawn: bool = False
    discarder: int = -1
    jokerless: bool = False
    concealed: bool = False
    exposures: int = 0
    discards: int = 0
    payments: tuple[int, ...] = (0, 0, 0, 0)
    thought: dict[Strength, tuple[int, float, float]] = field(default_factory=dict)
    """By strength: choices made, processor seconds taken in all, and by the longest one."""

    def note(self, strength: Strength, seconds: float) -> None:
        """Add one choice to what was thought."""
        choices, total, longest = self.thought.get(strength, (0, 0.0, 0.0))
        self.thought[strength] = choices + 1, total + seconds, max(longest, seconds)


def jobs(games: int, seed: int, strength: Strength) -> Iterator[Job]:
    """Half of them four players of one strength, the others spread over the pairs, whole deals of eight games first."""
    alike = games - games // 2
    for number in range(alike):
        yield Job((seed + number) % SEEDS, (strength,) * 4)
    for number in range(games - alike):
        deal, place = divmod(number, LINE_UPS * len(PAIRS))
        pair, place = divmod(place, LINE_UPS)
        lone_is_stronger, seat = divmod(place, 4)
        stronger, weaker = PAIRS[pair]
        lone, others = (stronger, weaker) if lone_is_stronger else (weaker, stronger)
        strengths = tuple(lone if other == seat else others for other in range(4))
        yield Job((seed + alike + deal) % SEEDS, strengths, pair)


def all_tiles(state: State) -> Counter[int]:
    """Every tile on the table, counted anew."""
    counts = Counter(state.wall)
    for rack in state.racks:
        counts.update(rack)
    counts.update(discard.kind for discard in state.discards if not discard.called)
    for laid in state.exposures:
        for one in laid:
            counts.update([one.kind] * (one.size - one.jokers) + [JOKER] * one.jokers)
    return counts


def makes(variant: Variant, rack: Sequence[int], laid: Sequence[Exposure]) -> bool:
    """Whether rack and exposures are the variant: groups struck off one by one, then tiles given out, jokers last."""
    groups = [(group.size, group.kind) for group in variant.groups]
    for one in laid:
        if (one.size, one.kind) not in groups or one.size < 3:
            return False
        groups.remove((one.size, one.kind))
    tiles = list(rack)
    for size, kind in sorted(groups):
        for _ in range(size):
            if kind in tiles:
                tiles.remove(kind)
            elif size >= 3 and JOKER in tiles:
                tiles.remove(JOKER)
            else:
                return False
    return not tiles


def win_faults(state: State) -> Iterator[str]:
    """What is wrong with a mahjong, looked at without the game's own matching."""
    outcome = state.outcome
    if outcome is None or outcome.winner is None:
        return
    laid = state.exposures[outcome.winner]
    named = [hand for hand in state.sheet.hands if outcome.hand is not None and hand.name == outcome.hand.name]
    if not any(makes(variant, outcome.tiles, laid) for hand in named for variant in hand.variants):
        yield "the winner's tiles are not the hand that was named"
    if laid and any(hand.concealed for hand in named):
        yield "a concealed hand was won with an exposure"
    if sum(outcome.payments) != 0 or outcome.payments[outcome.winner] <= 0:
        yield f"payments {outcome.payments} don't add up"


def play(job: Job, sheet: Sheet, choose: SeatPlayer) -> Played:
    """One game, looked over."""
    played = Played(job)
    whole = Counter(dict(enumerate(full_set(HOUSE.jokers))))
    try:
        state = start(sheet, HOUSE, shuffle(job.seed, HOUSE.jokers))
        while state.phase is not Phase.OVER:
            if state.to_act == CHANCE:
                action = legal_actions(state)[0]
            else:
                observation = observe(state, state.to_act)
                began = time.process_time()
                action = choose(observation)
                played.note(job.strengths[observation.seat], time.process_time() - began)
                if action not in observation.legal:
                    played.faults.append(f"“{action}” is not offered in {state.phase.value}")
            state = apply(state, action)
            if all_tiles(state) != whole:
                played.faults.append(f"tiles are lost or gained after “{action}”")
        played.faults += win_faults(state)
        if any(state.dead):
            played.faults.append("a hand died")
    except Exception:  # whatever goes wrong in a game is its fault, and the others are played all the same
        played.faults.append(traceback.format_exc(limit=3))
        return played
    outcome = state.outcome
    played.discards = len(state.discards)
    if outcome is not None and outcome.winner is not None and outcome.hand is not None:
        played.winner, played.hand, played.section = outcome.winner, outcome.hand.name, outcome.hand.section
        played.self_drawn, played.jokerless = outcome.self_drawn, outcome.jokerless
        played.discarder = -1 if outcome.discarder is None else outcome.discarder
        played.concealed = outcome.hand.concealed
        played.exposures, played.payments = len(state.exposures[outcome.winner]), outcome.payments
    return played


def play_batch(batch: Sequence[Job], stem: str) -> list[Played]:
    """Some games, in a process of their own."""
    sheet = find(stem)
    table = SheetTable.of(sheet, HOUSE.jokers)
    players = {strength: player(strength, table) for strength in {s for job in batch for s in job.strengths}}
    played = []
    for job in batch:
        seats = [players[strength] for strength in job.strengths]
        played.append(play(job, sheet, lambda observation, seats=seats: seats[observation.seat](observation)))
    return played


def run(games: int, seed: int, stem: str, strength: Strength, workers: int) -> list[Played]:
    """All games, in the order of their jobs; how far it is goes to standard error."""
    remaining = iter(jobs(games, seed, strength))
    batches = list(iter(lambda: list(islice(remaining, BATCH)), []))
    played: list[Played] = []
    began = time.perf_counter()
    with ProcessPoolExecutor(workers) as pool:
        for batch in pool.map(play_batch, batches, [stem] * len(batches)):
            played += batch
            if sys.stderr.isatty():
                print(f"\r{len(played)} of {games}, {time.perf_counter() - began:.0f} s", end="", file=sys.stderr)
    print(f"\r{len(played)} games in {time.perf_counter() - began:.0f} s", file=sys.stderr)
    return played


def interval(values: Sequence[float]) -> tuple[float, float]:
    """Mean, and 1.96 of its standard errors."""
    count = len(values)
    mean = sum(values) / count if count else 0.0
    if count < 2:
        return mean, math.inf
    variance = sum((value - mean) ** 2 for value in values) / (count - 1)
    return mean, 1.96 * math.sqrt(variance / count)


def share(part: int, whole: int) -> str:
    """A share in percent with its interval (normal approximation)."""
    if not whole:
        return "    -"
    rate = part / whole
    return f"{100 * rate:5.1f}% +-{196 * math.sqrt(rate * (1 - rate) / whole):4.1f}"


def report_alike(played: Sequence[Played], sheet: Sheet, strength: Strength) -> Iterator[str]:
    """How the games of four alike ended, and what they were won with."""
    won = [one for one in played if one.winner >= 0]
    total = len(played)
    yield f"Four {strength.value} players, {total} games of {sheet.name}"
    yield f"  mahjong       {share(len(won), total)}"
    yield f"  wall games    {share(sum(one.winner < 0 and not one.faults for one in played), total)}"
    for title, what in (
        ("self-drawn", lambda one: one.self_drawn),
        ("called", lambda one: not one.self_drawn),
        ("jokerless", lambda one: one.jokerless),
        ("concealed", lambda one: one.concealed),
        ("nothing laid", lambda one: not one.exposures),
    ):
        yield f"  {title:13} {share(sum(map(what, won)), len(won))} of mahjongs"
    mean, error = interval([float(one.discards) for one in played])
    yield f"  discards      {mean:5.1f}  +-{error:4.1f} a game; {mean_of(one.discards for one in won):.1f} when won"
    yield f"  exposures     {mean_of(one.exposures for one in won):5.2f} in the winner's hand"
    yield f"  won by seat   {', '.join(str(sum(one.winner == seat for one in won)) for seat in range(4))}"
    yield "  Sections and hands, share of mahjongs:"
    hands = Counter(one.hand for one in won)
    for section in sheet.sections:
        yield f"    {section.name:24} {share(sum(hands[hand.name] for hand in section.hands), len(won))}"
        for hand in section.hands:
            mark = " concealed" if hand.concealed else ""
            yield f"      {hand.name:24} {share(hands[hand.name], len(won))}  {hand.points} points{mark}"


def mean_of(values: Iterable[int]) -> float:
    """The mean, 0 of nothing."""
    listed = list(values)
    return sum(listed) / len(listed) if listed else 0.0


def mean_of_seats(played: Sequence[Played], strength: Strength, what: Callable[[Played, int], float]) -> float:
    """The mean of something over all seats of that strength."""
    values = [what(one, seat) for one in played for seat in range(4) if one.job.strengths[seat] is strength]
    return sum(values) / len(values) if values else 0.0


def report_pair(played: Sequence[Played], pair: tuple[Strength, Strength]) -> Iterator[str]:
    """How much better a seat of the stronger does than one of the weaker, per game, deals taken as independent."""
    deals: dict[int, list[Played]] = {}
    for one in played:
        deals.setdefault(one.job.seed, []).append(one)
    stronger, weaker = pair
    yield f"{stronger.value.capitalize()} against {weaker.value}: {len(played)} games, {len(deals)} deals"
    for title, what in (
        ("mahjongs", lambda one, seat: 100.0 * (one.winner == seat)),
        ("fed", lambda one, seat: 100.0 * (one.discarder == seat)),
        ("points", lambda one, seat: float(one.payments[seat])),
    ):
        sides = [mean_of_seats(played, side, what) for side in pair]
        ahead = [
            mean_of_seats(games, stronger, what) - mean_of_seats(games, weaker, what)
            for games in deals.values()
            if len(games) == LINE_UPS
        ]
        mean, error = interval(ahead)
        yield f"  {title:9} {sides[0]:7.2f} and {sides[1]:7.2f} a seat and game; ahead by {mean:6.2f} +-{error:5.2f}"


def report_speed(played: Sequence[Played]) -> Iterator[str]:
    """How long choices took each strength."""
    for strength in Strength:
        thought = [one.thought[strength] for one in played if strength in one.thought]
        if thought:
            choices, seconds = sum(one[0] for one in thought), sum(one[1] for one in thought)
            mean, longest = 1000 * seconds / choices, 1000 * max(one[2] for one in thought)
            yield f"  {strength.value:9} {mean:5.2f} ms a choice, {longest:5.1f} ms the longest of {choices}"


def main() -> int:
    """Play, print the table, end with the one line. Exit 1 when there was a fault."""
    parser = argparse.ArgumentParser(description="Many whole games of the simulated players.")
    parser.add_argument("--games", type=int, default=1000, help="how many in all (1000)")
    parser.add_argument("--seed", type=int, default=1, help="seed of the first deal (1)")
    parser.add_argument("--sheet", default="lantern-street", help="a shipped sheet's stem, or a file (lantern-street)")
    parser.add_argument("--strength", type=Strength, default=Strength.STEADY, help="of the four alike (steady)")
    parser.add_argument("--workers", type=int, default=2, help="processes (2)")
    asked = parser.parse_args()
    if asked.games < 1 or asked.workers < 1 or not 0 <= asked.seed < SEEDS:
        parser.error(f"--games and --workers are at least 1, --seed is 0 to {SEEDS - 1}")
    sheet = find(asked.sheet)
    played = run(asked.games, asked.seed, asked.sheet, asked.strength, asked.workers)
    print("\n".join(report_alike([one for one in played if one.job.pair < 0], sheet, asked.strength)))
    for number, pair in enumerate(PAIRS):
        print("\n".join(report_pair([one for one in played if one.job.pair == number], pair)))
    print("Processor time")
    print("\n".join(report_speed(played)))
    faulty = [one for one in played if one.faults]
    for one in faulty[:5]:
        print(f"deal {one.job.seed}, {[s.value for s in one.job.strengths]}: {one.faults[0]}")
    won = [one for one in played if one.winner >= 0]
    drawn = sum(one.self_drawn for one in won)
    faults = sum(len(one.faults) for one in played)
    walls = sum(one.winner < 0 and not one.faults for one in played)
    print(f"{len(played)} games, {faults} faults, {len(won)} won, {drawn} self-drawn, {walls} wall games")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
