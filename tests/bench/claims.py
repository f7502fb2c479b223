"""Counts the claims of advice anew over many positions of every kind, and prints those that do not hold.

    python tests/bench/claims.py --positions 500 [--sheet FILE_OR_STEM ...] [--seed S] [--jobs N] [--minutes M]

Every sentence is read back claim by claim; each fact is compared with one counted in plain Python (`counted.py`). The
positions are those of seeded games: passes, votes, the courtesy pass, turns with and without groups exposed, calls,
joker exchanges, hands that are complete or one tile away, early and late. It asserts nothing.
"""

from __future__ import annotations

import argparse
import os
import random
import sys
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the cores are shared out by process
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "engine/advice"))

import plain_advice as plain
from claims import check_plan
from claims_calls import check_answer, check_exchange
from claims_keep import check_keep
from claims_passes import check as check_pass
from claims_why_not import check_why_not
from counted import Counted

from engine.advice.advise.calls import advise_call
from engine.advice.advise.defence import advise_defence
from engine.advice.advise.discard import advise
from engine.advice.advise.exchanges import advise_exchange
from engine.advice.advise.passes import advise_courtesy, advise_passes, choose_before_play
from engine.advice.advise.verdict import verdict_of
from engine.advice.advise.why_not import why_not_hand
from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.rules.actions import Call, Mahjong
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import CHANCE, Phase
from engine.seats.character import Strength
from engine.seats.players import player
from engine.sheet.reader import load
from engine.sheet.shelf import find

QUIET_HOUSES = (House(picks=40), House(picks=6), House())
FULL_HOUSE = House(table=FULL)
PASS_HOUSE = House(picks=40, passes=6, courtesy=True)
ASKED = 6
"""Hands of the sheet that “why not?” is asked about at one position."""


class Tally:
    """Claims counted, kinds of position met, and what does not hold."""

    def __init__(self):
        self.claims = 0
        self.kinds = Counter()
        self.false = []

    def check(self, kind, said, work):
        """Run one check; a claim that fails is kept with its sentence."""
        try:
            self.claims += work()
        except AssertionError as error:
            self.false.append((kind, said, str(error).split("\n")[0]))


def rack_claims(tally, kind, table, observation, chance, plan=None):
    """All that is said about one rack: the plan, each tile, why not each hand, and the verdict beside them."""
    moment = Moment.seen(table, observation)
    before = len(tally.false)
    own = observation.exposures[observation.seat]
    advice = advise(moment, plan)
    verdict = verdict_of(advice, defence=advise_defence(observation) if moment.calls else None)
    counts, unseen, draws = observation.counts, observation.unseen, observation.picks_left
    whole = Counted(table, counts, unseen, draws, moment.calls, own)
    if advice.finished:
        made = any(plain.missing(one, counts) == 0 for one in whole.variants(advice.hands[0].hand.name))
        tally.check(kind, verdict.because, lambda: one_claim(made and verdict.action == Mahjong()))
        tally.kinds["complete"] += 1
        return
    if not advice.plan.aim or not advice.keeps:
        return
    rest = Counted(table, plain.without(counts, advice.let_go), unseen, draws, moment.calls, own)
    tally.check(kind, advice.because, lambda: plan_claims(advice, rest, counts[advice.let_go]))
    tally.check(kind, advice.because, lambda: one_tile_claims(advice, rest))
    tally.check(kind, verdict.price or verdict.title, lambda: verdict_claims(advice, verdict))
    for keep in advice.keeps[:-1]:
        tally.check(kind, keep.because, lambda keep=keep: keep_claims(keep, advice, whole, moment.calls))
    if not own:
        hands = table.sheet.hands
        for hand in chance.sample(hands, min(ASKED, len(hands))):
            said = why_not_hand(moment, advice, hand)
            tally.check(kind, said, lambda said=said, hand=hand: why_not_claims(said, hand, advice, whole))
    tally.kinds[kind] += 1
    tally.kinds["one tile away"] += advice.plan.aim[0].missing == 1
    tally.kinds["with a mistake in it"] += len(tally.false) > before


def one_claim(holds):
    """One claim that holds."""
    assert holds
    return 1


def plan_claims(advice, rest, held):
    """The sentences of the plan."""
    before = rest.asked
    met = check_plan(advice, rest, advice.keeps, held)
    return rest.asked - before + len(met)


def one_tile_claims(advice, rest):
    """A hand that lacks one tile, which may still come, is always named so."""
    near = [one.hand.name for one in advice.hands if rest.near(one.hand.name) == 1 and rest.outs(one.hand.name)]
    assert not near or "one tile from" in advice.because, f"one tile from {near}"
    return 1


def verdict_claims(advice, verdict):
    """No line contradicts the verdict: what goes is not to be kept, and the price is that of the tile named."""
    of = {keep.kind: keep for keep in advice.keeps}
    keep = of[verdict.kind]
    assert not keep.because.startswith("Keep"), keep.because
    assert keep.picks < 0.05
    if verdict.price:
        assert any(one.picks > 0 and verdict.price.startswith("The ") for one in advice.keeps[:-1])
    return 2


def keep_claims(keep, advice, whole, turns):
    """The sentences on one tile."""
    before = whole.asked
    met = check_keep(keep, advice, whole, turns=turns)
    assert keep.because.startswith("Keep") == (keep.picks >= 0.05)
    return whole.asked - before + len(met)


def why_not_claims(said, hand, advice, whole):
    """The answer on one hand."""
    before = whole.asked
    met = check_why_not(said, hand, advice, whole)
    return whole.asked - before + len(met)


def call_claims(tally, table, observation):
    """Every answer to a discard."""
    advice = advise_call(table, observation)
    if isinstance(advice.best.action, Mahjong):
        tally.check("call", advice.best.because, lambda: one_claim(Mahjong() in observation.legal))
    else:
        for choice in advice.choices:
            if not choice.dead:
                tally.check(
                    "call", choice.because, lambda one=choice: len(check_answer(one, advice, table, observation)) + 1
                )
    tally.kinds["call"] += 1


def exchange_claims(tally, table, observation):
    """Every joker exchange: what it gains, which hands it serves or gives up, and whether it is advised."""
    advice = advise_exchange(table, observation)
    for choice in advice.choices:
        tally.check("exchange", choice.because, lambda one=choice: len(check_exchange(one, table, observation)) + 1)
    tally.kinds["exchange"] += bool(advice.choices)


def warning_claims(tally, table, observation):
    """How many hands of a seat can use a tile: those that its exposures allow and the unseen tiles can fill."""
    for seat in advise_defence(observation).seats:
        if not seat.exposures or seat.dead:
            continue
        counted = Counted(table, (0,) * 36, observation.unseen, 0, True, seat.exposures)
        able = {
            name: [v for v in counted.variants(name) if plain.can_still_be(v, counted.rack, observation.unseen)]
            for name in counted.by_name
        }
        able = {name: some for name, some in able.items() if some}
        for risk in seat.risks:
            using = sum(any(v.total[risk.kind] for v in some) for some in able.values())
            tally.check(
                "warning",
                risk.because,
                lambda risk=risk, using=using: one_claim(risk.hands == using) + one_claim(using),
            )


def pass_claims(tally, table, observation, chance):
    """The best choices of a pass and some others."""
    advice = advise_passes(table, observation) if observation.phase is Phase.PASSING else advise_courtesy(
        table, observation
    )  # fmt: skip
    if not advice.choices:
        return
    others = advice.choices[3:]
    for choice in (*advice.choices[:3], *chance.sample(others, min(6, len(others)))):
        tally.check("pass", choice.because, lambda one=choice: len(check_pass(advice, observation, one)) + 1)
    tally.kinds["pass"] += 1


def quiet_game(tally, table, seed, chance):
    """One quiet game, some of its turns looked at; every complete hand is."""
    state, plan = start(table.sheet, QUIET_HOUSES[seed % 3], shuffle(seed, 8)), None
    while state.phase is not Phase.OVER:
        if state.to_act == CHANCE:
            state = apply(state, legal_actions(state)[0])
            continue
        observation = observe(state, state.to_act)
        advice = advise(Moment.seen(table, observation), plan)
        if advice.finished or chance.random() < 0.3:
            late = observation.picks_left < 6
            rack_claims(tally, "quiet, late" if late else "quiet", table, observation, chance, plan)
        plan = advice.plan
        state = apply(state, verdict_of(advice).action)


def full_game(tally, table, seed, chance):
    """One game of four steady players, seen from every seat at some moments."""
    state, choose = start(table.sheet, FULL_HOUSE, shuffle(seed, 8)), player(Strength.STEADY, table)
    while state.phase is not Phase.OVER:
        if state.to_act == CHANCE:
            state = apply(state, legal_actions(state)[0])
            continue
        observation = observe(state, state.to_act)
        asked = state.phase is Phase.CALLING
        if asked and any(isinstance(one, Call | Mahjong) for one in observation.legal) and chance.random() < 0.15:
            call_claims(tally, table, observation)
        elif not asked and chance.random() < 0.15:
            own = observation.exposures[observation.seat]
            rack_claims(tally, "turn, exposed" if own else "turn", table, observation, chance)
            warning_claims(tally, table, observation)
        if not asked:
            exchange_claims(tally, table, observation)
        state = apply(state, choose(observation))


def passes(tally, table, seed, chance):
    """All passes of one deal, from East's seat."""
    state = start(table.sheet, PASS_HOUSE, shuffle(seed, 8))
    while state.phase in BEFORE_PLAY:
        observation = observe(state, state.to_act)
        if state.to_act == 0 and state.phase in (Phase.PASSING, Phase.GIVING):
            pass_claims(tally, table, observation, chance)
        state = apply(state, choose_before_play(table, observation))


def part(job):
    """One share of the positions: the sheet, how many, and a seed."""
    name, wanted, seed, minutes = job
    end = time.monotonic() + 60 * minutes
    sheet = load(name) if name.endswith((".yaml", ".yml")) else find(name)
    table, tally, chance = SheetTable.of(sheet), Tally(), random.Random(seed)
    kinds = (quiet_game, full_game, passes)
    number = 0
    while sum(tally.kinds.values()) < wanted and time.monotonic() < end:
        kinds[number % 3](tally, table, seed + number, chance)
        number += 1
        so_far = f"{sum(tally.kinds.values())} positions, {tally.claims} claims, {len(tally.false)} do not hold"
        print(f"{Path(name).stem}: {number} games, {so_far}", file=sys.stderr, flush=True)
    return name, tally


def main():
    """Read the options, share the work out, print."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--positions", type=int, default=500, help="of all sheets together, at least")
    options.add_argument("--sheet", action="append", help="a file or a shipped sheet's stem; may be given again")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--jobs", type=int, default=1)
    options.add_argument("--minutes", type=float, default=60.0, help="for each sheet at most")
    given = options.parse_args()
    sheets = given.sheet or ["first-steps", "lantern-street"]
    each = -(-given.positions // len(sheets))
    jobs = [(sheet, each, given.seed * 10_000 + place * 1_000, given.minutes) for place, sheet in enumerate(sheets)]
    begun = time.monotonic()
    claims, kinds, false = 0, Counter(), []
    with ProcessPoolExecutor(given.jobs) as pool:
        for name, tally in pool.map(part, jobs):
            print(f"{Path(name).stem}: {sum(tally.kinds.values())} positions, {tally.claims} claims", flush=True)
            claims += tally.claims
            kinds += tally.kinds
            false += tally.false
    print(f"{claims} claims in {sum(kinds.values())} positions ({time.monotonic() - begun:.0f} s):")
    for kind, number in kinds.most_common():
        print(f"  {kind}: {number}")
    print(f"{len(false)} do not hold.")
    for kind, said, error in false[:40]:
        print(f"  {kind}: {said}\n      {error[:200]}")


if __name__ == "__main__":
    main()
