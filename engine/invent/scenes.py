"""The scenes that invented sheets are set in: a title, places for the sections, and things for the hands."""

from __future__ import annotations

from dataclasses import dataclass

from engine.invent.dice import Dice


@dataclass(frozen=True)
class Scenery:
    """What one invented sheet is called, and the names that its sections and hands take."""

    title: str
    places: tuple[str, ...]
    """For the sections, in a random order, at least 16."""
    names: tuple[str, ...]
    """For the hands, in a random order, at least 130."""


def scene(seed: int) -> Scenery:
    """The scene of a seed. Seeds that are next to each other have different settings; a title comes back only after
    as many seeds as there are settings, qualities and times of day together."""
    dice = Dice(seed)
    setting = seed % len(_SETTINGS)
    quality = seed // len(_SETTINGS) % len(_QUALITIES)
    time = seed // (len(_SETTINGS) * len(_QUALITIES)) % len(_TIMES)
    what, places, things = _SETTINGS[setting]
    title = f"{_QUALITIES[quality]} {what}{_TIMES[time]}"
    plain = dice.shuffled([_capital(thing) for thing in things.split(", ")])
    described = [f"{_capital(dice.pick(_LIKE))} {thing}" for thing in dice.shuffled(things.split(", ") * 3)]
    names = dict.fromkeys(dice.shuffled([*plain, *described]))
    return Scenery(title, tuple(dice.shuffled(places.split(", "))), tuple(names))


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]


_QUALITIES = (
    "Quiet", "Crooked", "Windy", "Upper", "Old", "Amber", "Hidden", "Narrow", "Far", "Sunny", "Lower",
    "Mossy", "Silver", "Busy", "Steep", "Little", "Painted", "Rainy", "Northern", "Copper", "Sleepy",
    "Second", "Stony", "Green", "Winding", "Frosty", "Borrowed", "Patient", "Lantern", "Western",
)  # fmt: skip
_TIMES = (
    "", " at Dawn", " by Night", " in Spring", " in the Rain", " at Noon", " in Autumn", " in Snow",
    " on Sunday", " before Dinner", " after the Storm", " in May",
)  # fmt: skip
_LIKE = (
    "old", "broken", "borrowed", "blue", "long", "heavy", "quiet", "spare", "painted", "wet", "second",
    "small", "dusty", "warm", "lost", "early", "late", "patched", "brass", "narrow", "round", "loose",
    "plain", "crooked", "best", "last", "bright", "faded", "empty", "full", "sleepy", "polished",
)  # fmt: skip

_SETTINGS = (
    (
        "Mill",
        "Wheel House, Grain Loft, Mill Pond, Cart Shed, Sluice Gate, Stone Floor, Sack Hoist, Meal Bins, "
        "Miller's Table, Weir, Hay Barn, Footpath, Dairy Door, Pump Yard, Granary Steps, River Bend, Willow "
        "Row, Cellar",
        "sack, rope, sieve, paddle, cog, barley, oats, scoop, hopper, rat trap, ladder, bucket, flour bag, "
        "tally stick, heron, ripple, stepping board, millstone, belt, latch, lantern hook, cat, swallow, "
        "plank, oil can, crust, wheelbarrow, trapdoor, spindle, husk, chaff, broom, eel, bread peel, door "
        "wedge, apron, dust cloud, drip",
    ),
    (
        "Orchard",
        "Gate, Pear Row, Plum Walk, Cider Press, Beehives, Ladder Store, Drying Loft, Hedge, Sorting Bench, "
        "Duck Pond, Long Grass, Fruit Room, Tool Wall, Old Wall, Blossom Corner, Wasp Corner, Cart Track, "
        "Scarecrow Field",
        "pear, russet, quince, damson, basket, twig, grafting knife, prop, windfall, bee, hive, smoker, "
        "honeycomb, ladder, picking pole, cider jug, cork, barrel, wasp, thrush, leaf pile, bonfire, wheel "
        "rut, hedgehog, pip, peel, crate, twine, straw hat, bell, frost cloth, blossom, cherry stone, medlar, "
        "walnut, mole hill, garden fork, dew",
    ),
    (
        "Railway",
        "Platform, Signal Box, Booking Hall, Goods Yard, Water Tower, Tunnel, Viaduct, Engine Shed, Tea Room, "
        "Footplate, Level Crossing, Lamp Room, Sidings, Parcel Desk, Waiting Room, Dining Car, Night Train, "
        "Branch Line",
        "whistle, flag, buffer, ticket, tender, coupling, signal arm, lever, points, sleeper, rail joint, "
        "coal scuttle, shovel, trunk, timetable, pocket watch, platform clock, guard's van, teacup, bun, "
        "lamp, fog signal, viaduct arch, tunnel mouth, porter, mail bag, hat box, window seat, footwarmer, "
        "luggage rack, fireman, turntable, water crane, brake wheel, bell code, milk churn, cutting, gradient",
    ),
    (
        "Theatre",
        "Curtain, Orchestra Pit, Costume Rack, Prompt Corner, Balcony, Trapdoor, Paint Loft, Box Office, "
        "Dressing Room, Fly Tower, Prop Table, Footlights, Green Room, Stage Door, Foyer, Cloakroom, "
        "Rehearsal, Last Act",
        "mask, wig, fan, sword, paper moon, thunder sheet, cue, prompt book, spotlight, velvet rope, ticket "
        "stub, programme, opera glass, drum roll, understudy, pulley, backdrop, painted tree, false beard, "
        "slipper, crown, rouge, mirror, bouquet, encore, whisper, trap door, sandbag, candle, ghost, "
        "messenger, bow, interval bell, stage cat, cardboard sea, wind machine, dagger, trumpet",
    ),
    (
        "Observatory",
        "Dome, Star Charts, Meridian Room, Roof Walk, Clock Case, Lens Bench, Moon Window, Comet Shelf, "
        "Stair, Night Desk, Weather Mast, Cloud Book, Planet Table, Library, Sundial Court, Dark Room, "
        "Eclipse, Telegraph Corner",
        "lens, sextant stand, eyepiece, comet, meteor, moonrise, shadow, sundial, pendulum, orbit, ring, "
        "crater, night moth, ladder, ink pot, chart, compass, plumb line, tripod, shutter, gear, red lamp, "
        "blanket, cold hand, cloud, aurora, dew cap, star map, meridian wire, almanac, brass tube, slow dawn, "
        "eclipse, far sun, twin star, dust lane, owl, thermos",
    ),
    (
        "Bakery",
        "Oven, Flour Store, Proving Shelf, Counter, Cake Stand, Delivery Van, Yeast Crock, Cooling Rack, "
        "Pastry Table, Recipe Drawer, Shop Window, Back Door, Sugar Bin, Night Shift, Bread Board, Tea "
        "Corner, Market Stall, Wood Pile",
        "crumb, crust, plait, bun, rolling pin, whisk, dough hook, pie dish, tart, seed loaf, rye, glaze, "
        "almond, raisin, cinnamon, scraper, oven glove, bread knife, paper bag, doorbell, cake tin, icing, "
        "cherry, sponge, ladle, butter pat, egg box, timer, apron string, flour cloud, baker's dozen, heel of "
        "bread, biscuit, wafer, treacle, poppy seed, bakestone, soda bread",
    ),
    (
        "Lighthouse",
        "Lamp Room, Gallery, Spiral Stair, Fog Horn, Landing Stage, Keeper's Table, Store Room, Signal Mast, "
        "Rock Pool, Tide Mark, Boat House, Oil Cellar, Log Book, Reef, Weather Window, Rope Locker, Sea Wall, "
        "Night Watch",
        "wick, lamp glass, prism, rope ladder, gull, cormorant, seal, crab, limpet, spray, swell, squall, fog "
        "bell, oilskin, sea boot, dinghy, oar, rowlock, buoy, anchor, chart, telescope, barometer, kettle, "
        "ship's biscuit, driftwood, bottle, knot, net, lobster pot, foam, undertow, horizon, sail, pennant, "
        "storm pane, brass polish, tide table",
    ),
    (
        "Garden",
        "Potting Shed, Herb Bed, Rose Arch, Compost Corner, Glass House, Lily Pond, Gravel Path, Kitchen "
        "Beds, Sun Trap, Water Butt, Bean Rows, Rockery, Seed Drawer, Lawn, Summer House, Ivy Wall, Bird "
        "Table, Cold Frame",
        "trowel, dibber, seed tray, watering can, rose, thyme, sage, fennel, marrow, radish, pea stick, bean "
        "pole, slug, snail, robin, worm, cloche, twine, sieve, rake, hoe, wheelbarrow, gnome, sundial, lily "
        "pad, frog, newt, fountain, stepping stone, pergola, fern, moss, gravel, peg, label, bulb, acorn, "
        "clover",
    ),
    (
        "Workshop",
        "Bench, Tool Rack, Sawdust Floor, Vice, Glue Pot, Paint Shelf, Nail Drawer, Lathe, Drawing Board, "
        "Timber Stack, Grindstone, Back Room, Stove Corner, Finished Shelf, Pattern Box, Skylight, Key Hooks, "
        "Yard",
        "chisel, mallet, plane, spokeshave, dovetail, peg, dowel, hinge, screw, washer, rivet, file, clamp, "
        "sawhorse, shaving, knot hole, ruler, try square, plumb bob, pencil stub, glue brush, varnish, "
        "sandpaper, bradawl, oilstone, toolbox, workbench, handle, veneer, bracket, hook, spring, cog, lens, "
        "solder, wire, spirit level, stool",
    ),
    (
        "Market",
        "Spice Row, Cheese Stall, Flower Carts, Tea House, Cloth Hall, Fruit Barrows, Clock Corner, Fish "
        "Slabs, Bread Steps, Potters' Lane, Coin Changer, Basket Row, Umbrella Stand, Hat Stall, Book Barrow, "
        "Lantern Row, Well, Porters' Bench",
        "saffron, pepper, nutmeg, teapot, tea chest, silk, button, ribbon, thimble, scale, weight, coin, "
        "purse, awning, barrow, basket, melon, fig, date, olive, herring, oyster, candle, clay pot, jug, "
        "parrot, juggler, fiddle, hat, umbrella, bargain, receipt, handcart, pigeon, church clock, cobble, "
        "broadsheet, shawl",
    ),
    (
        "Canal",
        "Lock Gate, Towpath, Basin, Tunnel, Aqueduct, Barge, Wharf, Horse Stable, Toll House, Winding Hole, "
        "Reed Bank, Swing Bridge, Cabin, Coal Boat, Lock Cottage, Boat Yard, Feeder Stream, Night Mooring",
        "windlass, tiller, tow rope, barge pole, hatch, cabin stove, painted rose, water can, bollard, paddle "
        "gear, lock beam, mooring pin, fender, bilge, plank, coal, salt, swan, moorhen, kingfisher, reed, "
        "willow, dragonfly, minnow, puddle clay, milestone, toll ticket, horse bell, nosebag, lantern, tunnel "
        "hook, echo, brick arch, ferry, ripple, fog bank, narrow bend, tea tin",
    ),
    (
        "Post Office",
        "Sorting Frame, Stamp Drawer, Parcel Scale, Telegraph Desk, Bicycle Shed, Pigeon Loft, Letter Slot, "
        "Night Mail, Island Round, Dead Letters, Inkwell, Counter, Back Stair, Hill Round, Sealing Bench, Map "
        "Wall, Coach Yard, Early Round",
        "envelope, stamp, postmark, twine, sealing wax, parcel, brown paper, postcard, telegram, pillar box, "
        "mail bag, bicycle bell, pedal, whistle, puddle, barking dog, garden gate, door knocker, spectacles, "
        "pen nib, blotter, ink stain, address, seal, signature, love letter, bill, valentine, seed catalogue, "
        "magazine, boat post, pigeon, lamp, rain cape, short cut, wrong house, return slip, ledger",
    ),
)
"""What a setting is called, its places, and its things."""
