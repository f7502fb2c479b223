"""The slow, obvious twin of `engine.advice.contest.racks`: one variant at a time, with plain loops."""

from math import comb

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
