"""Words of a line that bear on weights and states, and fat percentages in every way cooks write them."""

from collections import defaultdict
from collections.abc import Mapping
from typing import NamedTuple

from mealcalc.recipe.numbers import is_fat_ratio
from mealcalc.recipe.tokens import Kind, Tokens

WORD_PHRASES: Mapping[str, str] = {
    phrase.strip(): canonical
    for canonical, phrases in {
        # liquid of a can, salt
        "drained": "drained | drained well | well drained | well-drained | liquid discarded",
        "undrained": "undrained | not drained | do not drain | with liquid | with juice | with juices | with their "
        "juice | "
        "with its juice | with their liquid | including liquid | in their juice",
        "rinsed": "rinsed",
        "salted": "salted | lightly salted",
        "unsalted": "unsalted | salt free | sweet butter",
        "low sodium": "low sodium | reduced sodium | low salt | reduced salt | salt reduced | sodium reduced | "
        "lower sodium | "
        "less sodium",
        "no salt added": "no salt added | no added salt | no salt | no sodium added | without salt | salt free",
        # bone, skin, shell, peel
        "bone in": "bone in | on the bone | with bone | with bones | on bone | unboned",
        "boneless": "boneless | deboned | de-boned | boned | bone removed | bones removed | off the bone | without "
        "bone | "
        "boned out | bone out",
        "skinless": "skinless | skinned | skin off | skin removed | without skin | skins removed | skin discarded "
        "| no skin",
        "skin on": "skin on | with skin | skin left on | unskinned",
        "skin and bone": "with skin and bone | skin and bone",
        "peeled": "peeled | skins off",
        "unpeeled": "unpeeled | not peeled | with peel",
        "whole": "whole",
        "in shell": "in shell | in the shell | in their shells | shell on | shells on | unshelled | in shells | "
        "unshucked | "
        "with shells",
        "shelled": "shelled | shucked | shell removed | shells removed | shell off | podded",
        "with stone": "with stone | with stones | with pit | with pits | with their stones | with their pits | "
        "stone in | stones in | pit in | pits in | unpitted | unstoned",
        "in pod": "in pod | in pods | in the pod | in the pods | in their pods",
        "on the cob": "on the cob | on cob",
        "head on": "head on | heads on | with heads",
        "pitted": "pitted | stoned | stones removed | pits removed | destoned | de-stoned",
        "filleted": "filleted",
        "gutted": "gutted | cleaned | scaled",
        "deveined": "deveined",
        "trimmed": "trimmed | fat trimmed | trimmed of fat | visible fat removed | fat removed",
        # form, for densities
        "grated": "grated | microplaned",
        "chopped": "chopped",
        "minced": "minced",
        "sliced": "sliced",
        "diced": "diced",
        "cubed": "cubed",
        "shredded": "shredded | pulled",
        "mashed": "mashed",
        "pureed": "pureed",
        "crushed": "crushed",
        "crumbled": "crumbled",
        "flaked": "flaked",
        "slivered": "slivered",
        "ground": "ground",
        "powdered": "powdered | powder",
        "melted": "melted",
        "sifted": "sifted",
        "leaves": "leaves | leaves only | leaves picked | leaf",
        "packed": "packed | firmly packed | lightly packed | loosely packed | tightly packed | well packed",
        "heaped": "heaped | heaping | rounded | well-heaped",
        "level": "level",
        "squeezed": "squeezed | squeezed dry | squeezed out",
        "juice of": "juice of | juice only | juiced | zest and juice | juice and zest",
        "zest of": "zest of | zest only | zested | rind of | peel of | grated zest | grated rind",
        # lean and fat
        "lean": "lean",
        "extra lean": "extra lean | very lean",
        "fat free": "fat free | nonfat | non fat | no fat | zero fat",
        "low fat": "low fat | reduced fat | lite | lower fat",
        "light": "light",
        "full fat": "full fat | full cream",
        # curing and the way it is sold
        "smoked": "smoked",
        "unsmoked": "unsmoked | green bacon",
        "toasted": "toasted",
        "as bought": "as bought | as purchased | gross weight",
        "edible": "edible portion | edible weight | prepared weight | peeled weight | trimmed weight | flesh only "
        "| meat only",
        "drained weight": "drained weight",
        "thawed": "thawed | defrosted",
        "skimmed": "skimmed | skim",
    }.items()
    for phrase in phrases.split("|")
}
"""Every phrase that bears on weights and states -> the canonical word on the record. Hyphens count as spaces."""

_IMPLIED_BY = {"extra lean": "lean", "skin and bone": "bone in", "drained weight": "drained"}
_REPLACES = {
    "extra lean": ("lean",),
    "undrained": ("drained",),
    "unpeeled": ("peeled",),
    "no salt added": ("salted",),
    "drained weight": ("whole",),
}
_DAIRY = frozenset(
    "milk yogurt yoghurt yoghourt quark skyr cottage curd dahi fromage frais kefir cream creme crema buttermilk "
    "ricotta paneer "
    "cheese yog mozzarella half".split()
)
_MINCED = frozenset(
    "mince minced ground hamburger hamburgers burger burgers beef pork turkey chicken lamb veal meat patties "
    "patty".split()
)
_FAT = frozenset(("fat", "fett", "milkfat", "butterfat", "mf", "m.f", "bf", "fats"))
_LESS = frozenset(("less", "reduced", "lower", "low", "fewer"))
_LEAST_LEAN_PERCENT = 60.0
_LEAST_REDUCTION_PERCENT = 15.0


def _index() -> Mapping[str, list[tuple[tuple[str, ...], str]]]:
    found: dict[str, list[tuple[tuple[str, ...], str]]] = defaultdict(list)
    for phrase, canonical in WORD_PHRASES.items():
        words = tuple(phrase.split())
        found[words[0]].append((words, canonical))
        if len(words) > 1:
            hyphened = "-".join(words)
            found[hyphened].append(((hyphened,), canonical))
            if len(words) == 3:
                found["-".join(words[:2])].append((("-".join(words[:2]), words[2]), canonical))
                found[words[0]].append(((words[0], "-".join(words[1:])), canonical))
    for entries in found.values():
        entries.sort(key=lambda entry: -len(entry[0]))
    return found


_BY_FIRST_WORD = _index()


class FatReading(NamedTuple):
    """Fat in g per 100 g, and the tokens that state it (from `start` to before `end`)."""

    fat_percent: float
    start: int
    end: int


def read_words(tokens: Tokens) -> set[str]:
    """The canonical words (see `WORD_PHRASES`) that `tokens` hold."""
    found: set[str] = set()
    i = 0
    while tokens[i].kind is not Kind.END:
        step = 1
        for words, canonical in _BY_FIRST_WORD.get(tokens[i].low, ()):
            if len(words) == 1 or all(tokens[i + n].low == word for n, word in enumerate(words) if i + n < len(tokens)):
                found.add(canonical)
                step = len(words)
                break
        i += step
    if {"skin on", "bone in"} <= found:
        found.add("skin and bone")
    for word in tuple(found):
        if word in _IMPLIED_BY:
            found.add(_IMPLIED_BY[word])
        found.difference_update(_REPLACES.get(word, ()))
    return found


def read_fat(tokens: Tokens) -> FatReading | None:
    """The fat percentage that the line states, or None: 10% fat, fat 10 %, 80% lean, 80/20, 80-20, 2% milk."""
    for i, token in enumerate(tokens):
        if token.kind is not Kind.NUMBER or token.value is None:
            continue
        if is_fat_ratio(token):
            return FatReading(float(token.text.replace("⁄", "/").partition("/")[2]), i, _past_lean(tokens, i + 1))
        second = tokens[i + 2]
        if tokens[i + 1].low in ("-", "–", "/") and second.value is not None and token.value + second.value == 100:
            if token.value >= second.value and not tokens[i + 1].spaced:
                return FatReading(second.value, i, _past_lean(tokens, i + 3))
            continue
        end = _percent_sign(tokens, i + 1)
        if end is not None:
            found = _by_context(tokens, i, end, token.value)
            if found is not None:
                return found._replace(end=_past_other_share(tokens, found.end))
    return None


def _percent_sign(tokens: Tokens, i: int) -> int | None:
    if tokens[i].low == "-":
        i += 1
    if tokens[i].low in ("%", "percent", "pct"):
        return i + 1
    if tokens[i].low == "per" and tokens[i + 1].low == "cent":
        return i + 2
    return None


def _past_other_share(tokens: Tokens, i: int) -> int:
    """Step over the other share of `85% lean / 15% fat`."""
    j = i + 1 if tokens[i].low in ("/", ",", "-") else i
    if tokens[j].kind is Kind.NUMBER:
        end = _percent_sign(tokens, j + 1)
        if end is not None and tokens[end].low in ("fat", "lean"):
            return end + 1
    return i


def _past_lean(tokens: Tokens, i: int) -> int:
    return i + 1 if tokens[i].low == "lean" else i


def _by_context(tokens: Tokens, i: int, end: int, value: float) -> FatReading | None:
    after = end + 1 if tokens[end].low == "-" else end
    low = tokens[after].low
    if value > 100:
        return None
    if low in ("fat-free", "lean") or (low == "fat" and tokens[after + 1].low == "free"):
        return FatReading(100 - value, i, after + (2 if low == "fat" else 1))
    if low in _FAT:
        return FatReading(value, i, after + 1)
    if low in ("milk", "butter") and tokens[after + 1].low == "fat":
        return FatReading(value, i, after + 2)
    if low in _LESS or low in ("reduced-fat", "low-fat", "lower-fat"):
        if value >= _LEAST_REDUCTION_PERCENT:
            return None  # '25% less fat' compares with another product
        return FatReading(value, i, after)
    before = tokens[i - 1].low if i else ""
    if before in _FAT:
        return FatReading(value, i - 1, end)
    if before == "lean":
        return FatReading(100 - value, i - 1, end)
    around = {token.low for token in tokens}
    if around & _DAIRY and value < _LEAST_LEAN_PERCENT:
        return FatReading(value, i, end)
    if around & _MINCED:
        return FatReading(100 - value if value >= _LEAST_LEAN_PERCENT else value, i, end)
    return None
