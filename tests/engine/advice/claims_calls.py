"""Reads what is said of each answer to a discard back, and compares each claim with a fresh count."""

import re

import plain_advice as plain
from claims_aim import check_aim
from claims_words import NUMBER, NUMBERS
from counted import Counted, left_after

from engine.advice.advise.discard import advise
from engine.advice.moment import Moment
from engine.rules.actions import Call, LetGo
from engine.rules.state import Exposure
from engine.tiles import JOKER, NAMES
from engine.words import TRIFLE, listed, picks

TIE = 0.1
"""Letting go is advised where a call gains no more turns; of exchanges only one that gives up no plan."""


def about(cost):
    """How an estimated cost is said."""
    said = picks(cost, turns=True)
    return said if said.startswith("under") else f"about {said}"


def check_answer(choice, advice, table, observation):
    """Every claim on one answer to a discard. Returns the claims met."""
    own = observation.exposures[observation.seat]
    counted = Counted(table, observation.counts, observation.unseen, observation.picks_left, calls=True, laid=own)
    others = [one.picks for one in advice.choices if one is not choice and not one.dead]
    said = choice.because
    if isinstance(choice.action, LetGo):
        if choice.picks > 0:
            assert said == f"It costs {about(choice.picks)}."
            return {"letting go costs"}
        aim, _, rest = said.partition(". ")
        if advice.plan.aim:
            check_aim(aim + ".", counted)
        if others and advice.plan.aim:
            call = next(one for one in advice.choices if isinstance(one.action, Call) and not one.dead)
            lost = advice.plan.names[0] in {one.hand.name for one in call.rules_out}
            far = f"bring {advice.plan.names[0]} no nearer"
            no_nearer = [far] if f" {far}" in rest else []
            would = no_nearer + ([] if lost else price(call, advice))
            if min(others) > 0.1:
                would.append(f"cost {about(min(others))}")
            else:
                would += ["be worth hardly more", *([] if would else ["show the others what you collect"])]
            assert rest.endswith(f"A call would {listed(would)}."), (rest, would)
            if no_nearer:
                laid = (*own, Exposure(call.action.size, observation.discards[-1].kind, call.action.jokers))
                after = list(observation.counts)
                after[observation.discards[-1].kind] -= call.action.size - call.action.jokers - 1
                after[JOKER] -= call.action.jokers
                kept = plain.without(after, call.let_go)
                named = Counted(table, kept, observation.unseen, 0, calls=True, laid=laid)
                assert named.near(advice.plan.names[0]) >= counted.near(advice.plan.names[0])
        return {"let go"}
    group = f"The {('pung', 'kong', 'quint', 'sextet')[choice.action.size - 3]}"
    hope = re.fullmatch(
        rf"Your own draws are too few for any hand, but calls may still bring (?P<hand>{counted.names}): it needs "
        rf"(?P<n>{NUMBER}) tiles? after the (?P<group>pung|kong|quint|sextet)\.",
        said,
    )
    if hope:
        assert choice.picks == 0
        assert f"The {hope['group']}" == group
        ways = {name: plain_near(table, observation, choice, name) for name in counted.by_name}
        assert NUMBERS[hope["n"]] == ways[hope["hand"]] == min(ways.values()) > counted.draws - 1
        return {"hope"}
    if said.startswith("After the"):
        assert not choice.rules_out or len(choice.rules_out) <= len(advice.hands)
        return {"nothing left"}
    if said.startswith(f"{group} brings you to one tile from"):
        hand = re.match(rf"{group} brings you to one tile from ({counted.names})", said)[1]
        assert hand not in {one.hand.name for one in choice.rules_out}
        return {"one away"}
    name_ = counted.names
    match = re.fullmatch(
        rf"{group} (?:brings (?P<hand>{name_}) from (?P<before>{NUMBER}) tiles? to (?P<after>{NUMBER})"
        rf"|leaves (?P<same>{name_}) at (?P<still>{NUMBER}) tiles?)(?P<open>, all of which may be called)?\."
        rf"(?: It (?P<parts>(?:spends|gives up|rules out|commits|leaves) .+?)\.)?"
        r"(?: (?P<tie>It is worth hardly more than letting it go, and the others see what you collect)"
        r"| It costs (?P<cost>.+)| Any other answer costs (?P<margin>.+) or more"
        r"| (?P<which>Another answer|Letting it go) is almost as good| Letting it go costs (?P<alone>.+))?\.?",
        said,
    )
    assert match, said
    laid = (*observation.exposures[observation.seat],
            Exposure(choice.action.size, observation.discards[-1].kind, choice.action.jokers))  # fmt: skip
    rack = list(observation.counts)
    rack[observation.discards[-1].kind] -= choice.action.size - choice.action.jokers - 1
    rack[JOKER] -= choice.action.jokers
    rest = plain.without(rack, choice.let_go)
    hand = match["hand"] or match["same"]
    ways = [v for h, v in left_after(table, laid) if h.name == hand and plain.can_still_be(v, rest, observation.unseen)]
    whole = [v for v in counted.variants(hand) if plain.can_still_be(v, observation.counts, observation.unseen)]
    least = min(plain.missing(v, rest) for v in ways)
    if match["hand"]:
        assert NUMBERS[match["before"]] == min(plain.missing(v, observation.counts) for v in whole)
        assert NUMBERS[match["after"]] >= least
        assert NUMBERS[match["after"]] < NUMBERS[match["before"]]
    met = check_spent(match["parts"] or "", choice, advice)
    if match["tie"]:
        assert isinstance(advice.best.action, LetGo)
        assert choice.picks == 0
    elif match["cost"]:
        assert match["cost"].removesuffix(".") == about(choice.picks)
    elif match["margin"] or match["alone"]:
        assert choice.picks == 0
        assert bool(match["alone"]) == (len(others) == 1)
        assert (match["margin"] or match["alone"].removesuffix(".")) == about(min(others))
    else:
        assert choice.picks == 0
        assert not others or min(others) < TRIFLE
    return met | {claim for claim, value in match.groupdict().items() if value}


def plain_near(table, observation, choice, name):
    """The least number of tiles that a hand misses after a call and the best discard then."""
    kind, call = observation.discards[-1].kind, choice.action
    laid = (*observation.exposures[observation.seat], Exposure(call.size, kind, call.jokers))
    rack = list(observation.counts)
    rack[kind] -= call.size - call.jokers - 1
    rack[JOKER] -= call.jokers
    kept = plain.without(rack, choice.let_go)
    return Counted(table, kept, observation.unseen, 0, calls=True, laid=laid).near(name)


def price(choice, advice):
    """What a call spends, gives up and leaves open, as verbs and what they act on."""
    out = {one.hand.name for one in choice.rules_out}
    left = [one.hand.name for one in advice.hands if one.hand.name not in out]
    second = advice.plan.second.hand.name if advice.plan.second else ""
    used, parts = choice.action.jokers, []
    if used:
        parts.append(f"spend {'a joker' if used == 1 else f'{list(NUMBERS)[used]} jokers'}")
    if advice.plan.aim and advice.plan.names[0] in out:
        parts.append(f"give up {advice.plan.names[0]}")
    elif second in out:
        parts.append(f"give up {second} as the second string")
    if out and not left and len(out) > 1:
        parts.append(f"rule out all {list(NUMBERS)[len(out)]} hands now in reach")
    elif out and left and len(left) < 3:
        parts.append(f"commit you to {' or '.join(left)}")
    elif out and left and advice.plan.names[0] not in out:
        parts.append(f"leave {list(NUMBERS)[len(left)]} of {list(NUMBERS)[len(advice.hands)]} hands open")
    return parts


def check_spent(said, choice, advice):
    """What a call spends, gives up and leaves open. Returns the claims met."""
    parts = [f"{verb}s {what}" for verb, _, what in (part.partition(" ") for part in price(choice, advice))]
    assert said == listed(parts)
    return {part.split()[0] for part in parts}


def check_with_joker(choice, after, moment, table):
    """What is said of the aim once the joker has been taken."""
    if not choice.aim:
        return
    said = re.sub(r"^The joker brings you to", "You are", choice.aim)
    rack = moment.swapped(choice.action.kind).counts
    kept = plain.without(rack, after.let_go)
    check_aim(said, Counted(table, kept, moment.unseen, moment.draws, calls=True, laid=moment.exposures))


def check_luck(said, gain, plan, counted):
    """How many turns an exchange saves, or that the hand aimed for then is far off all the same."""
    lead = plan.names[0] if plan.aim else None
    far = False
    if lead is not None:
        missing, chance = (
            counted.missing(lead),
            plain.odds(counted.best(lead), counted.rack, counted.unseen, counted.draws),
        )
        far = missing > 3 and 3 * missing > counted.draws and chance < 0.05
    if far and not said.startswith("With the joker"):
        assert said.endswith(f", though {lead} will take luck.")
    else:
        assert said.endswith(f"a hand comes {about(gain)} sooner.")


def check_exchange(choice, table, observation):
    """What is said of one joker exchange: the figure, the hands, and whether it is advised. Returns the claims met."""
    moment, kind, gain, said = Moment.seen(table, observation), choice.action.kind, choice.picks, choice.because
    now, after = advise(moment), advise(moment.swapped(kind))
    check_with_joker(choice, after, moment, table)
    if "self-drawn" in said:
        assert said == f"The joker makes {after.hands[0].hand.name}, and that counts as self-drawn."
        return {"finishes"}
    if said == "No hand is near enough for the draws left to you, but a joker is safe: nobody can call it.":
        assert not after.plan.aim
        assert choice.good == (gain > 0 or now.let_go == kind)
        return {"far"}
    if "go anyway" in said:
        assert choice.good
        assert now.let_go == kind
        assert gain > -TRIFLE
        return {"spare"}
    turn = re.match(r"Turn from (.+) to (.+) with the joker[:,] ", said)
    if turn or said.startswith(("The joker serves", "With the joker")):
        assert choice.good
        assert gain > TIE
        kept = plain.without(moment.swapped(kind).counts, after.let_go)
        check_luck(said, gain, after.plan, Counted(table, kept, moment.unseen, moment.draws, True, moment.exposures))
    elif said.startswith("It costs nothing"):
        assert choice.good
        assert 0 < gain <= TIE
    elif said.startswith("Keep"):
        assert not choice.good
        assert said.endswith(f"costs {about(-gain)}.")
    else:
        assert said.startswith("It makes no difference")
        assert not choice.good
        assert -TRIFLE <= gain <= TIE
    if turn:
        assert turn[1] == now.plan.names[0] not in {one.hand.name for one in after.plan.targets}
        assert turn[2] == after.plan.names[0]
    own = observation.exposures[observation.seat]
    rest = (observation.unseen, observation.picks_left, True, own)
    needs = re.match(rf"Keep the {NAMES[kind]}: (.+) needs it, and ", said)
    if needs:
        best = Counted(table, plain.without(observation.counts, now.let_go), *rest).best(needs[1])
        assert best.total[kind] >= observation.counts[kind]
    served = re.match(rf"The joker serves (.+) better than the {NAMES[kind]}[:,] ", said)
    if served:
        rack = list(plain.without(observation.counts, kind))
        rack[JOKER] += 1
        assert Counted(table, plain.without(rack, after.let_go), *rest).places(served[1]) > 0
    return {"turn" if turn else "needed" if needs else "served" if served else "other"}
