"""Food phrases in a normal form: lower case, no accents or punctuation, singular words, one spelling.

Two phrases mean the same words when their normal forms hold the same tokens, whatever the order.
"""

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from mealcalc.matching.words import NEUTRAL, QUALIFIERS
from mealcalc.reference.plain_words import singular_stem

_WORD = re.compile(r"[a-z0-9&]+")

_IRREGULAR = {
    "leaves": "leaf", "loaves": "loaf", "halves": "half", "calves": "calf", "knives": "knife", "hooves": "hoof",
    "shelves": "shelf", "wolves": "wolf", "feet": "foot", "teeth": "tooth", "geese": "goose", "mice": "mouse",
    "oxen": "ox", "octopi": "octopus", "fungi": "fungus", "radii": "radius", "fungus": "fungus",
}  # fmt: skip

# Words that end in s but are no plurals.
_NO_PLURAL = frozenset(
    "asparagus couscous hummus molasses citrus cos swiss bass watercress cress lass grass lemongrass octopus hibiscus "
    "bolognese gras schnapps kumis pancreas anis chassis plus less boneless skinless fatless seedless stemless hass "
    "christmas".split()
)

_SPELLINGS = {
    "yoghurt": "yogurt", "yoghourt": "yogurt", "yogourt": "yogurt", "chili": "chilli", "chile": "chilli",
    "chily": "chilli", "chilly": "chilli", "catsup": "ketchup", "barbeque": "barbecue", "bbq": "barbecue",
    "hommus": "hummus", "houmous": "hummus", "houmus": "hummus", "humous": "hummus", "hommous": "hummus",
    "fibre": "fiber", "flavour": "flavor", "flavoured": "flavored", "colour": "color", "coloured": "colored",
    "filet": "fillet", "soya": "soy", "soyabean": "soybean", "doughnut": "donut",
    "wholewheat": "wholemeal", "pitta": "pita", "tumeric": "turmeric", "cardamon": "cardamom", "tinned": "canned",
    "tin": "can", "grey": "gray", "parmigiano": "parmesan", "mould": "mold", "veg": "vegetable", "premade": "prepared",
    "non": "no", "choc": "chocolate", "panir": "paneer", "daal": "dal", "dhal": "dal", "dahl": "dal", "ghi": "ghee",
    "mung": "moong", "tuvar": "toor", "tur": "toor", "worcester": "worcestershire", "sulphured": "sulfured",
    "unsulphured": "unsulfured", "lo": "low", "lite": "light", "w": "with", "wo": "without",
    "boned": "boneless", "deboned": "boneless", "skinned": "skinless",
}  # fmt: skip

# Two words written as one, or the other way round, in their common form.
_JOINED = {
    ("whole", "wheat"): "wholemeal", ("whole", "meal"): "wholemeal", ("whole", "grain"): "wholegrain",
    ("fat", "free"): "nonfat", ("no", "fat"): "nonfat", ("zero", "fat"): "nonfat", ("low", "fat"): "lowfat",
    ("reduced", "fat"): "lowfat", ("half", "fat"): "lowfat", ("spring", "water"): "springwater",
    ("corn", "flour"): "cornflour", ("corn", "starch"): "cornstarch", ("corn", "meal"): "cornmeal",
    ("butter", "milk"): "buttermilk", ("sweet", "corn"): "sweetcorn", ("beet", "root"): "beetroot",
    ("bread", "crumb"): "breadcrumb", ("egg", "plant"): "eggplant", ("all", "purpose"): "allpurpose",
    ("self", "raising"): "selfraising", ("self", "rising"): "selfraising", ("soy", "bean"): "soybean",
    ("salt", "reduced"): "lowsodium", ("reduced", "salt"): "lowsodium", ("low", "salt"): "lowsodium",
    ("low", "sodium"): "lowsodium", ("reduced", "sodium"): "lowsodium", ("lower", "sodium"): "lowsodium",
    ("less", "salt"): "lowsodium", ("less", "sodium"): "lowsodium", ("no", "salt"): "unsalted",
    ("salt", "free"): "unsalted", ("without", "salt"): "unsalted", ("skin", "on"): "skinon", ("with", "skin"): "skinon",
    ("skin", "off"): "skinless", ("without", "skin"): "skinless", ("bone", "in"): "bonein", ("with", "bone"): "bonein",
    ("on", "bone"): "bonein", ("off", "bone"): "boneless", ("half", "half"): "halfandhalf",
    ("pop", "corn"): "popcorn", ("water", "melon"): "watermelon", ("oat", "meal"): "oatmeal",
    ("lemon", "grass"): "lemongrass",
    ("pine", "nut"): "pinenut", ("pea", "nut"): "peanut", ("wall", "nut"): "walnut", ("black", "berry"): "blackberry",
    ("blue", "berry"): "blueberry", ("semi", "skimmed"): "semiskimmed", ("semi", "skim"): "semiskimmed",
    ("wood", "ear"): "woodear", ("cauli", "flower"): "cauliflower", ("sun", "dried"): "sundried",
    ("tooth", "pick"): "toothpick", ("horse", "radish"): "horseradish", ("ground", "nut"): "peanut",
    ("coco", "nut"): "coconut", ("free", "range"): "freerange", ("good", "quality"): "goodquality",
    ("straight", "to"): "straightto", ("stone", "ground"): "stoneground", ("cold", "pressed"): "coldpressed",
}  # fmt: skip

_GLUE = frozenset(
    ["of", "the", "a", "an", "and", "&", "or", "in", "into", "with", "for", "to", "on", "from", "some", "s"]
)


def fold(text: str) -> str:
    """`text` in lower case without accents, with apostrophes closed and every other mark turned into a space."""
    plain = unicodedata.normalize("NFKD", text.replace("ø", "o").replace("œ", "oe").replace("æ", "ae"))
    letters = "".join(c for c in plain if not unicodedata.combining(c)).lower()
    return " ".join(_WORD.findall(letters.replace("'", "").replace("’", "")))


@lru_cache(maxsize=20_000)
def singular(word: str) -> str:
    """The singular of an English plural in our one spelling; other words come back as they are, respelled."""
    if word in _SPELLINGS:
        return _SPELLINGS[word]
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    stem = singular_stem(word, _NO_PLURAL)
    return _SPELLINGS.get(stem, stem)


@lru_cache(maxsize=20_000)
def tokens(phrase: str) -> tuple[str, ...]:
    """The tokens of `phrase` in order: folded, singular, joined where two words are one, without articles and glue."""
    words = [singular(w) for w in fold(phrase).split()]
    words = [w for w in words if w not in ("and", "&", "the", "a", "an", "of", "s")]
    joined: list[str] = []
    i = 0
    while i < len(words):
        pair = (words[i], words[i + 1]) if i + 1 < len(words) else None
        if pair in _JOINED:
            joined.append(_JOINED[pair])
            i += 2
        else:
            joined.append(words[i])
            i += 1
    return tuple(w for w in joined if w not in _GLUE)


def phrase_key(phrase: str) -> str:
    """The normal form of `phrase` for comparing and for saved decisions: its distinct tokens in alphabetical order."""
    return " ".join(sorted(set(tokens(phrase))))


@dataclass(frozen=True, slots=True)
class Phrase:
    """A food phrase taken apart.

    words: its tokens with the head noun last, 'leg of lamb' being 'lamb leg'. packed_in: tokens of what the food lies
    in, which are no part of its name: 'tuna in spring water' is tuna. inverted: whether it was written with 'of'.
    """

    words: tuple[str, ...]
    packed_in: tuple[str, ...] = ()
    inverted: bool = False


@lru_cache(maxsize=20_000)
def take_phrase_apart(phrase: str) -> Phrase:
    """Read a food phrase: what it is packed in, and the order of its words."""
    food, within, packing = phrase.partition(" in ")
    packed_in = tokens(packing)
    if not within or not packed_in or not set(packed_in) <= QUALIFIERS | NEUTRAL:
        food, packed_in = phrase, ()
    part, of, whole = food.partition(" of ")
    return Phrase(tokens(f"{whole} {part}") if of else tokens(food), packed_in, bool(of))
