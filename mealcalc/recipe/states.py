"""The state in which a food is weighed, as far as the words of its line say it.

Words of the name and of short remarks in brackets (`(dry)`) say the state. After the comma stands what the cook does
next, so there only a plain statement counts (`cooked and cooled`), never a step of preparation (`cooked until soft`).
"""

from typing import NamedTuple

from mealcalc.recipe.tokens import Kind, Tokens
from mealcalc.records import FoodState

_COOKED = frozenset(
    "cooked precooked pre-cooked leftover left-over rotisserie boiled hard-boiled soft-boiled hardboiled grilled "
    "steamed poached "
    "barbecued braised reheated ready-cooked slow-cooked".split()
)
_ROAST = frozenset(("roast", "roasted"))
_ROASTED_FOODS = frozenset(
    "chicken turkey beef lamb pork duck goose ham meat gammon potato potatoes vegetables veg pumpkin parsnips "
    "breast leg thigh "
    "topside veal".split()
)
_GRAINS = frozenset(
    "rice pasta spaghetti penne macaroni noodle noodles lentil lentils bean beans chickpea chickpeas quinoa "
    "couscous bulgur barley "
    "oats oatmeal dal dhal daal peas orzo lasagna lasagne vermicelli fettuccine linguine fusilli farro millet "
    "buckwheat freekeh "
    "grain grains pulses polenta grits wheat sorghum amaranth freekah chana rajma".split()
)
_POUCHES = frozenset("pouch pouches microwave microwaveable microwavable ready-to-eat".split())
_DRY_BEVERAGES = frozenset(
    "white red wine sherry vermouth cider marsala rose champagne martini sake mustard roasted-peanuts rub roasted "
    "roast cured fried "
    "aged ale ginger curry".split()
)
_NOT_DRIED_AFTER = frozenset(
    ("sun", "semi", "air", "half", "pat", "patted", "wiped", "spun", "shaken", "squeezed", "oven", "wrung", "until")
)
_WASHED = frozenset(("washed", "rinsed", "drained", "cleaned", "dried", "scrubbed"))
_FROZEN_FOODS = frozenset("yogurt yoghurt custard dessert treat".split())
_PLAIN_COMPANIONS = frozenset(
    "and cooled cold chilled drained weight already rinsed peeled deveined shelled weighed when of well hot warm "
    "still raw with "
    "no salt in advance".split()
)
_PLAIN_STATES = {
    "cooked": FoodState.COOKED, "precooked": FoodState.COOKED, "pre-cooked": FoodState.COOKED,
    "leftover": FoodState.COOKED, "raw": FoodState.RAW, "uncooked": FoodState.RAW, "dry": FoodState.DRY,
    "dried": FoodState.DRY, "frozen": FoodState.FROZEN, "canned": FoodState.CANNED, "tinned": FoodState.CANNED,
}  # fmt: skip
_ASIDE_COMPANIONS = _PLAIN_COMPANIONS | frozenset("about approximately total or fresh if measured uncooked".split())
_WEAK = frozenset((FoodState.FROZEN,))
_COMPATIBLE = frozenset(
    (
        frozenset((FoodState.RAW, FoodState.DRY)),
        frozenset((FoodState.CANNED, FoodState.COOKED)),
        frozenset((FoodState.CANNED, FoodState.RAW)),
        frozenset((FoodState.COOKED, FoodState.FROZEN)),
        frozenset((FoodState.RAW, FoodState.FROZEN)),
        frozenset((FoodState.DRY, FoodState.FROZEN)),
        frozenset((FoodState.CANNED, FoodState.FROZEN)),
    )
)


class StateReading(NamedTuple):
    """The state, and the index of a token that contradicts it (None where nothing does)."""

    state: FoodState | None
    contradiction: int | None = None


def read_state(tokens: Tokens, start: int, name_end: int, container: str) -> StateReading:
    """The state said by a line.

    Parameters
    ----------
    tokens : Tokens
        The whole line.
    start, name_end : int
        The tokens from `start` to before `name_end` are the food phrase; what follows is preparation and remarks.
    container : str
        Canonical pack; a can or jar says that the food is canned where no word says otherwise.
    """
    found: list[tuple[FoodState, int]] = []
    grain = any(token.low in _GRAINS for token in tokens[start:name_end])
    for i in range(start, name_end):
        state = _word_state(tokens, i, grain)
        if state is not None:
            found.append((state, i))
    found += _asides(tokens, start, grain)
    if not found:
        found += _phrases(tokens, name_end, grain)
    if not found:
        return StateReading(FoodState.CANNED if container in ("can", "jar") else None)
    first = next((state for state, _ in found if state not in _WEAK), found[0][0])
    clash = next((i for state, i in found if state is not first and frozenset((state, first)) not in _COMPATIBLE), None)
    if FoodState.DRY in (s for s, _ in found) and first is FoodState.RAW:
        first = FoodState.DRY
    return StateReading(first, clash)


def _word_state(tokens: Tokens, i: int, grain: bool) -> FoodState | None:
    """The state that the word at `i` of the food phrase says."""
    token = tokens[i]
    if token.kind is not Kind.WORD or token.depth:
        return None
    low, before, after = token.low, tokens[i - 1].low if i else "", tokens[i + 1].low
    if before in ("or", "not", "un", "to") or (before == "par" and low == "cooked"):
        return None
    if low in _COOKED:
        return FoodState.COOKED if after not in ("sweets", "sweet") else None
    if low in _ROAST:
        return FoodState.COOKED if after in _ROASTED_FOODS and before not in ("dry", "pot") else None
    if low in _POUCHES:
        return FoodState.COOKED if grain else None
    if low == "raw":
        return FoodState.RAW if after not in ("sugar", "cacao", "cane", "honey") else None
    if low == "uncooked":
        return FoodState.DRY if grain else FoodState.RAW
    if low in ("dry", "dried"):
        if before in _NOT_DRIED_AFTER or (before in ("and", ",") and tokens[i - 2].low in _WASHED):
            return None
        return None if low == "dry" and after in _DRY_BEVERAGES else FoodState.DRY
    if low in ("canned", "tinned"):
        return FoodState.CANNED
    if low == "frozen":
        return FoodState.FROZEN if after not in _FROZEN_FOODS else None
    return None


def _asides(tokens: Tokens, start: int, grain: bool) -> list[tuple[FoodState, int]]:
    """States in brackets that hold nothing else: (dry), (cooked weight), (pre-cooked)."""
    found: list[tuple[FoodState, int]] = []
    i = start
    while tokens[i].kind is not Kind.END:
        if tokens[i].low in ("(", "["):
            close = i + 1
            while tokens[close].kind is not Kind.END and tokens[close].low not in (")", "]"):
                close += 1
            state = _plain_state(tokens, i + 1, close, grain)
            if state is not None:
                found.append((state, i + 1))
            i = close
        if tokens[i].kind is not Kind.END:
            i += 1
    return found


def _phrases(tokens: Tokens, start: int, grain: bool) -> list[tuple[FoodState, int]]:
    """The first comma phrase after the food that is plainly a state."""
    i = start
    while tokens[i].kind is not Kind.END:
        end = i
        while tokens[end].kind is not Kind.END and not (
            tokens[end].low in (",", ";", "-", "–", "(") and not tokens[end].depth
        ):
            end += 1
        state = _plain_state(tokens, i, end, grain)
        # 'rinsed and dried' is a step; a state stands first in its phrase.
        if state is not None and tokens[i].low in _PLAIN_STATES:
            return [(state, i)]
        i = end + (tokens[end].kind is not Kind.END)
    return []


def _plain_state(tokens: Tokens, start: int, end: int, grain: bool) -> FoodState | None:
    state: FoodState | None = None
    for token in tokens[start:end]:
        if token.low in _PLAIN_STATES and state is None:
            state = _PLAIN_STATES[token.low]
        elif (
            (token.low not in _ASIDE_COMPANIONS and token.kind is Kind.WORD)
            or token.kind is Kind.NUMBER
            or (state is None and token.low in ("or", "fresh"))
        ):
            return None
    if state is FoodState.RAW and grain and any(token.low == "uncooked" for token in tokens[start:end]):
        return FoodState.DRY
    return state
