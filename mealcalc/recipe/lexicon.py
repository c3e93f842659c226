"""Reviewed word lists of the line parser: units that are counted, packs, sizes and the small words around amounts.

Words are in the form of `tokens.plain`: lower case, without accents. Where a word is a unit only beside certain foods,
the condition stands in `units_in_text`.
"""

from collections.abc import Mapping

# --- counted units ----------------------------------------------------------------------------------------------------


def _forms(table: Mapping[str, str]) -> dict[str, str]:
    return {word: unit for unit, words in table.items() for word in words.split()}


COUNT_WORDS: Mapping[str, str] = _forms(
    {
        "piece": "piece pieces pc pcs nos chunk chunks portion portions serving servings ball balls log "
        "logs nest nests "
        "square squares strand strands thread threads thumb thumbs lump lumps hunk hunks pod pods wheel wheels "
        "segment segments",
        "slice": "slice slices rasher rashers strip strips",
        "clove": "clove cloves",
        "stalk": "stalk stalks rib ribs stem stems",
        "sprig": "sprig sprigs",
        "leaf": "leaf leaves",
        "head": "head heads",
        "bunch": "bunch bunches",
        "sheet": "sheet sheets",
        "loaf": "loaf loaves",
        "can": "can cans tin tins",
        "jar": "jar jars bottle bottles",
        "pack": "pack packs package packages packet packets pkg pkgs pkt pkts bag bags box boxes punnet punnets "
        "tub tubs "
        "carton cartons container containers pouch pouches tray trays pot pots tube tubes block blocks bar bars "
        "basket baskets",
        "rack": "rack racks",
        "sleeve": "sleeve sleeves",
        "sachet": "sachet sachets envelope envelopes",
        "scoop": "scoop scoops",
        "handful": "handful handfuls",
        "ear": "ear ears cob cobs",
        "bulb": "bulb bulbs",
        "floret": "floret florets",
        "wedge": "wedge wedges",
        "cube": "cube cubes",
        "pinch": "pinch pinches grind grinds grinding grindings twist twists turn turns crack cracks",
        "dash": "dash dashes shake shakes",
        "drop": "drop drops",
        "splash": "splash splashes",
        "drizzle": "drizzle drizzles",
        "glug": "glug glugs",
        "knob": "knob knobs",
        "dollop": "dollop dollops",
        "squeeze": "squeeze squeezes squirt squirts",
        "sprinkle": "sprinkle sprinkling sprinkles",
        "spray": "spray sprays spritz spritzes",
        "shot": "shot shots",
    }
)
"""Every way we know to write a counted unit -> its canonical name in `units.COUNT_UNITS`."""

NOT_A_UNIT_BEFORE: Mapping[str, frozenset[str]] = {
    "bottle": frozenset(("gourd", "gourds")),
    "pot": frozenset(("roast", "roasts", "barley")),
    "tube": frozenset(("pasta",)),
    "strip": frozenset(("steak", "steaks", "loin")),
    "cube": frozenset(("steak", "steaks")),
    "head": frozenset(("on", "off")),
    "box": frozenset(("grater",)),
    "leaf": frozenset(("lettuce", "spinach", "lard")),
    "bar": frozenset(("snacks",)),
    "can": frozenset(("be",)),
    "stem": frozenset(("ginger",)),
    "square": frozenset(("tin", "pan")),
}
"""A counted unit is none before these words: a bottle gourd is a vegetable."""

CAN_UNITS = frozenset(("can", "jar", "pack", "sachet"))
"""Canonical units that are containers: a weight in brackets after them is what one of them holds."""

DROPPED_AFTER_WEIGHT = frozenset(("piece", "slice", "head", "bulb", "loaf", "wedge", "bunch", "sheet"))
"""Units that say nothing more once a weight is given: 500 g piece of beef, 600 g head of cauliflower."""

ONE_WITHOUT_NUMBER = frozenset("pinch dash handful sprig bunch knob drop scoop sachet dollop".split())
"""Units that mean one of them without number or article: `pinch of salt`, `sprig of thyme`."""

VAGUE_UNITS = frozenset(("glug", "drizzle", "splash", "squeeze", "sprinkle", "spray", "shot"))
"""Units of a gesture: an article before them states no number, so the amount is implied."""

SMALL_MEASURES = VAGUE_UNITS | frozenset(("pinch", "dash", "drop", "knob", "dollop", "handful"))
"""Units of a gesture or of the fingers: a word such as `good` before them makes them larger."""

SMALL_MEASURE_SIZES: Mapping[str, str] = {
    "good": "good", "decent": "good", "healthy": "good", "generous": "generous", "liberal": "generous",
    "heaped": "generous", "heaping": "generous", "scant": "small",
}  # fmt: skip
"""Words that are a size before a small measure and say nothing of the size elsewhere."""

FEW: Mapping[str, float] = {"few": 3.0, "several": 4.0, "some": 3.0}
"""What vague numbers are counted as (common practice, no source); always implied, never written amounts."""

STICK_FATS = frozenset("butter margarine shortening lard ghee fat spread".split())
STALK_FOODS = frozenset("celery rhubarb chard lemongrass kale fennel".split())
CLOVE_FOODS = frozenset(("garlic",))

TRAILING_UNITS: Mapping[str, tuple[str, bool]] = {
    "clove": ("clove", False), "cloves": ("clove", False),
    "stalk": ("stalk", False), "stalks": ("stalk", False),
    "rib": ("stalk", False), "ribs": ("stalk", False),
    "stick": ("stalk", False), "sticks": ("stalk", False),
    "sprig": ("sprig", False), "sprigs": ("sprig", False),
    "slice": ("slice", False), "slices": ("slice", False),
    "rasher": ("slice", False), "rashers": ("slice", False),
    "head": ("head", False), "heads": ("head", False),
    "ear": ("ear", False), "ears": ("ear", False),
    "cob": ("ear", False), "cobs": ("ear", False),
    "leaf": ("leaf", True), "leaves": ("leaf", True),
    "cube": ("cube", True), "cubes": ("cube", True),
    "sheet": ("sheet", True), "sheets": ("sheet", True),
    "bulb": ("bulb", True), "bulbs": ("bulb", True),
    "floret": ("floret", True), "florets": ("floret", True),
    "sachet": ("sachet", True), "sachets": ("sachet", True),
    "rack": ("rack", True), "racks": ("rack", True),
    "sleeve": ("sleeve", False), "sleeves": ("sleeve", False),
    "stem": ("stalk", False), "stems": ("stalk", False),
}  # fmt: skip
"""Units written after the food (2 garlic cloves): unit, and whether the word stays in the name (bay leaves)."""

LENGTH_CM: Mapping[str, float] = {
    "inch": 2.54, "inches": 2.54, '"': 2.54, "”": 2.54, "″": 2.54, "cm": 1.0, "cms": 1.0, "centimetre": 1.0,
    "centimetres": 1.0, "centimeter": 1.0, "centimeters": 1.0, "mm": 0.1, "in": 2.54,
}  # fmt: skip
"""Centimetres in one unit of length; the inch is 2.54 cm, exact (international yard and pound agreement, 1959)."""

LENGTH_PIECES = frozenset(
    "piece pieces knob knobs thumb thumbs chunk chunks length lengths stick sticks slice slices nub hunk section "
    "strip strips "
    "stalk of root".split()
)
"""Words after a length that make it the amount: a 2 cm piece of ginger; else it is a size: 8-inch tortillas."""

NUMBERED_CAN_ML: Mapping[str, float] = {
    "1": 494.0, "2": 608.0, "2.5": 881.0, "3": 1529.0, "5": 1748.0, "10": 3236.0, "300": 450.0, "303": 499.0,
}  # fmt: skip
"""US can numbers -> capacity in ml (can-size table crediting the Can Manufacturers Institute, secondary page)."""

# --- words around amounts ---------------------------------------------------------------------------------------------

APPROXIMATE = frozenset(
    "about approximately approx around roughly circa ca ~ ≈ scant just under over nearly almost generous generously "
    "heaped heaping rounded level another additional extra good up to at least".split()
)
"""Words before a number that do not change how it is read."""

SIZES: Mapping[str, str] = {
    "small": "small", "sm": "small", "smallish": "small", "little": "small", "small-sized": "small",
    "small-size": "small",
    "smaller": "small", "tiny": "small",
    "medium": "medium", "med": "medium", "medium-sized": "medium", "medium-size": "medium", "average": "medium",
    "large": "large", "lg": "large", "lge": "large", "big": "large", "large-sized": "large", "large-size": "large",
    "larger": "large",
    "extra-large": "extra large", "xl": "extra large", "jumbo": "extra large", "giant": "extra large",
    "huge": "extra large",
    "extra-small": "small",
}  # fmt: skip
"""Size words -> the size on the record."""

NOT_A_SIZE_BEFORE = frozenset("curd flake flakes pearl grain grained leaf oat oats spice heat hot".split())
"""`medium grain rice` and `small curd cottage cheese` name a food, not the size of a piece."""

UNIT_MODIFIERS = frozenset(
    "heaped heaping level rounded scant generous good big large small medium packed tightly loosely lightly firmly "
    "additional "
    "thick thin plump fat whole us imperial metric standard short full healthy decent ripe more fresh nice liberal "
    "thin-cut thick-cut center-cut centre-cut thick-sliced thinly-sliced thumb-sized thumb-size walnut-sized very "
    "smallish few".split()
) | frozenset(SIZES)
"""Words that may stand between a number and its unit: 2 large cloves, 1 heaped tbsp, 6 thick slices."""

PRODUCT_NUMBER_NOUNS = frozenset(
    "spice bean beans grain grains seed cheese berry nut veg vegetable pepper minute".split()
)
PRODUCT_NOUNS = frozenset(
    "mix blend powder medley salad bread mixture seasoning rice noodle noodles oats paste".split()
)
"""A number before one of the first and then one of the second names a product: four bean mix, 5 spice powder."""

ABBREVIATED_NUMBER = frozenset("no nos nr number size type tipo grade mark recipe step page".split())
"""A number after one of these is a label, not an amount."""

UNKNOWN_MEASURES = frozenset(
    "glass glasses mug mugs bowl bowls spoon spoons spoonful spoonfuls ladle ladles capful capfuls tumbler "
    "tumblers".split()
)
"""Words that measure nothing known, even without `of`: they are told, not guessed."""

TIME_WORDS = frozenset("minute minutes min mins hour hours hr hrs second seconds day days week weeks".split())

PART_WORDS = frozenset(
    "leg shoulder loin side breast thigh drumstick wing neck shank saddle haunch hock cheek tail belly rump fillet "
    "filet tenderloin "
    "joint cut steak chop cutlet medallion noisette escalope round topside knuckle trotter rib bone carcass heart "
    "cream "
    "hearts bicarbonate juice zest rind peel flesh meat white yolk spear frond top green part half third quarter ring "
    "shaving crumb parsnip seed star stick round tablet disc disk dice strip sliver scraping grating flake kernel "
    "bouquet mix mixture combination blend choice variety kind type assortment selection pair set floret branch "
    "bough flower "
    "blossom root shoot cutting stem curl twist swirl float coil string link ring roll layer kilo quantity recipe "
    "batch can "
    "crown bouquet cluster bundle wheel lot vine punnet pint half-pint can length inch round".split()
)
"""Nouns that stand between a number and `of` and are parts of a food: `1 leg of lamb` holds no unknown unit."""
