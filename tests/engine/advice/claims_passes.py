"""Reads what is said of each choice of tiles to pass back, and compares each claim with a fresh count."""

import re

import plain_advice as plain
import plain_passes as slow

from engine.words import TRIFLE, in_words, picks

NEAREST = 5
NUMBERS = {in_words(number): number for number in range(100)}
NUMBER = "|".join(NUMBERS)
THEN = (
    r"(?:can't be made any more|loses tiles but has another way that is as near"
    rf"|then needs (?:{NUMBER}) tiles? instead of (?:none|{NUMBER}))"
)
PICKS = r"(?:under 0\.1 picks|about \d+(?:\.\d)? picks?)"
COST = rf"costs (?P<cost>{PICKS})"


def grammar(names):
    """Everything that may be said of a choice, with the names of the hands that may be named."""
    name = "|".join(sorted(map(re.escape, names), key=len, reverse=True))
    return re.compile(
        rf"(?:None of your (?P<none>{NUMBER}) nearest hands uses (?P<any>it|any of them)"
        rf"|(?P<only>{name}), the one hand in reach, doesn't use (?P<any_only>it|any of them)"
        rf"|(?P<hurt>{name}) (?P<then>{THEN})"
        rf"(?:, and (?P<more>{NUMBER}) more of your (?P<of>{NUMBER}) nearest hands loses? tiles too)?"
        rf"(?:; (?P<safe>{name}), the nearest, keeps all it has)?)"
        rf"(?:; (?P<further>{name}), further off, (?P<further_then>{THEN}))?"
        rf"(?:\. It {COST} against the best choice"
        rf"|\. Any other choice costs (?P<margin>{PICKS}) or more"
        r"|\. (?P<as_good>Another choice is (?:just|almost) as good))?\."
    )


def check_cost(said, value):
    """`about 4.1 picks`, never rounded to nothing."""
    assert value > 0
    cost = picks(value)
    assert said == (cost if cost.startswith("under") else f"about {cost}")


class Counted:
    """Claims on the hands of one rack and one choice, counted afresh."""

    def __init__(self, hands, observation, kinds):
        self.hands = {reach.hand.name: reach for reach in hands}
        self.before, self.unseen = observation.counts, observation.unseen
        self.after = slow.without(observation.counts, kinds)
        self.asked = 0

    def uses(self, name):
        """Whether the best variant of the hand misses more tiles once these have gone."""
        self.asked += 1
        variant = self.hands[name].variant
        return plain.missing(variant, self.after) > plain.missing(variant, self.before)

    def check_then(self, name, said):
        """What is said to become of a hand that loses tiles."""
        assert self.uses(name)
        now = plain.missing(self.hands[name].variant, self.before)
        least = slow.least_missing(self.hands[name].hand, self.after, self.unseen)
        if least is None:
            assert said == "can't be made any more"
        elif least <= now:
            assert said == "loses tiles but has another way that is as near"
        else:
            tiles = "tile" if least == 1 else "tiles"
            assert said == f"then needs {in_words(least)} {tiles} instead of {in_words(now) if now else 'none'}"

    def worse(self, name):
        """Whether the hand misses more tiles by every way that is left, or can't be made."""
        now = plain.missing(self.hands[name].variant, self.before)
        least = slow.least_missing(self.hands[name].hand, self.after, self.unseen)
        return self.uses(name) and (least is None or least > now)


def check(advice, observation, choice):
    """Read the sentence claim by claim; nothing may be left over. Returns the claims met."""
    names = [reach.hand.name for reach in advice.hands]
    nearest = names[:NEAREST]
    counted = Counted(advice.hands, observation, choice.kinds)
    hurt = [name for name in nearest if counted.uses(name)]
    said = grammar(names).fullmatch(choice.because)
    assert said, choice.because
    if said["hurt"]:
        assert said["hurt"] == hurt[0]
        counted.check_then(hurt[0], said["then"])
        assert (NUMBERS[said["more"]] if said["more"] else 0) == len(hurt) - 1
        assert said["of"] is None or NUMBERS[said["of"]] == len(nearest)
        assert said["safe"] == (None if hurt[0] == names[0] else names[0])
        assert not said["further"]
    else:
        assert not hurt
        assert (said["any"] or said["any_only"]) == ("it" if len(choice.kinds) == 1 else "any of them")
        assert said["only"] == (names[0] if len(names) == 1 else None)
        assert said["none"] is None or NUMBERS[said["none"]] == len(nearest)
        behind = [name for name in names[NEAREST:] if counted.worse(name)]
        assert said["further"] == (behind[0] if behind else None)
        if behind:
            counted.check_then(behind[0], said["further_then"])
    best = choice.picks == 0
    assert bool(said["cost"]) == (not best)
    if said["cost"]:
        check_cost(said["cost"], choice.picks)
    others = [one.picks for one in advice.choices if one is not choice]
    assert bool(said["margin"] or said["as_good"]) == bool(best and hurt and others)
    if said["margin"]:
        check_cost(said["margin"], min(others))
    if said["as_good"]:
        assert min(others) < TRIFLE
        assert ("just" in said["as_good"]) == (min(others) == 0)
    return {claim for claim, value in said.groupdict().items() if value}


def check_hands(advice, observation, choice):
    """The hands that a choice gives up and those that it keeps, all of them, counted afresh."""
    counted = Counted(advice.hands, observation, choice.kinds)
    used = tuple(place for place, reach in enumerate(advice.hands) if counted.uses(reach.hand.name))
    assert choice.gives_up == used
    assert sorted((*choice.gives_up, *choice.keeps)) == list(range(len(advice.hands)))
    assert choice.keeps == tuple(sorted(choice.keeps))
