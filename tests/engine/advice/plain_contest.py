"""The slow, obvious twin of `engine.advice.contest.racks`: one variant at a time, with plain loops."""

from math import comb

from engine.advice.contest.pace import coming
from engine.advice.contest.racks import near_rows
from engine.advice.race import Race
from engine.tiles import JOKER, KINDS


def exactly(copies, share, number):
    """Chance that just so many of the copies come."""
    if not 0 <= number <= copies:
        return 0.0
    return comb(copies, number) * share**number * (1 - share) ** (copies - number)


def at_least(copies, share, number):
    """Chance that so many or more come."""
    return sum(exactly(copies, share, some) for some in range(max(number, 0), copies + 1))


def chance(real, loose, concealed, rack, unseen, drawn, thrown, lacking):
    """The chance of one variant by one moment: `drawn` and `thrown` are one number for each kind, `lacking` the tiles
    that it lacked before any tile went."""
    plain, last, left = 1.0, 0.0, {0: 1.0}
    for kind in range(KINDS):
        f, q = real[kind], loose[kind]
        held = rack[kind] if kind != JOKER else 0
        if f and not q:
            short = max(f - held, 0)
            here = at_least(unseen[kind], drawn[kind], short)
            plain *= here
            if short and here > 0:
                one_short = exactly(unseen[kind], drawn[kind], short - 1)
                last += one_short * (1 - (1 - thrown[kind]) ** max(unseen[kind] - short + 1, 0)) / here / lacking
        elif q:
            strict, free = max(f - held, 0), max(q - max(held - f, 0), 0)
            after = {}
            for come in range(strict, unseen[kind] + 1):
                short = max(strict + free - come, 0)
                called = 1 - (1 - thrown[kind]) ** (unseen[kind] - come) if short and not concealed else 0.0
                for before, weight in left.items():
                    for total, part in ((before + short, 1 - called), (before + short - 1, called)):
                        if part:
                            share = weight * part * exactly(unseen[kind], drawn[kind], come)
                            after[total] = after.get(total, 0.0) + share
            left = after
    mean = sum(thrown[:JOKER]) / JOKER
    final = (1 - (1 - mean) ** 2) / lacking if concealed else 0.0
    filled = 0.0
    for short, weight in left.items():
        wanted = short - rack[JOKER]
        filled += weight * at_least(unseen[JOKER], drawn[JOKER], wanted)
        if wanted > 0:
            filled += weight * final * exactly(unseen[JOKER], drawn[JOKER], wanted - 1)
    return min(max(plain * filled * (1 + last), 0.0), 1.0)


def worth(table, observation, counts=None, laid=None, gone=None, lost=0.0):
    """What a rack brings until the game ends, in that of a win with a usual hand; the seat's own rack unless `counts`
    and `laid` say otherwise, once one tile has `gone`, had so many turns been `lost`. With other groups laid it has
    just called: its next draw comes after all others."""
    counts = observation.counts if counts is None else tuple(counts)
    race = Race.seen(observation)
    if laid is not None:
        race = Race(race.wall, race.most, race.groups, race.live)
    after = table.after(observation.exposures[observation.seat] if laid is None else laid)
    come = coming(table, observation.unseen, race, lost)
    rack = list(counts)
    if gone is not None:
        rack[gone] -= 1
    usual = sum(hand.points for hand in table.sheet.hands) / len(table.sheet.hands)
    weight = {hand.name: (5.0 * (hand.points / usual) ** 0.8 + 1.6) / 6.6 for hand in table.sheet.hands}
    rows = near_rows(after, counts, observation.unseen).tolist()
    most = max([1.0, *(weight[after.sheet.hands[int(after.hand[row])].name] for row in rows)])
    total = 0.0
    for moment in range(5):
        drawn, thrown = come.drawn[:, moment].tolist(), come.thrown[:, moment].tolist()
        powers = 0.0
        for row in rows:
            real, loose = after.real[row].tolist(), after.loose[row].tolist()
            lacking = max(sum(lacks(real, loose, counts)), 1)
            hidden = bool(after.concealed[row])
            one = chance(real, loose, hidden, rack, observation.unseen, drawn, thrown, lacking)
            powers += (one * weight[after.sheet.hands[int(after.hand[row])].name] / most) ** 4
        total += most * (powers / (1 + powers)) ** 0.25
    return total / 5


def lacks(real, loose, counts):
    """Tiles missing from singles and pairs, and from larger groups once jokers have filled what they can."""
    strict = sum(max(real[kind] - counts[kind], 0) for kind in range(JOKER))
    free = sum(max(loose[kind] - max(counts[kind] - real[kind], 0), 0) for kind in range(JOKER))
    return strict, max(free - counts[JOKER], 0)
