"""The strategy of default foods: the reviewed table of everyday names, by region and state.

A name fits when all its words stand in the line. Of the names that fit, the best leaves the fewest words of the line
unexplained; a word left over that could change the food lowers the score, so that 'garlic bread' is not garlic.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations

from mealcalc.matching.name_index import name_index, rows_by_head
from mealcalc.matching.normalise import tokens
from mealcalc.matching.proposal import BUNDLED_TABLE, SURE, Proposal
from mealcalc.matching.query import Query
from mealcalc.matching.words import (
    CLASS_WORDS,
    CUTS,
    IDLE_AT_THE_END,
    NEUTRAL,
    NEVER_NEUTRAL,
    QUALIFIERS,
    STATES,
    SUBSTANCES,
    head_noun,
)
from mealcalc.records import Candidate, FoodState
from mealcalc.reference.tables import DefaultFood, default_foods

STRATEGY = "default food"

MOST_WORDS = 10
"""Words of a line that are tried in combination: names are shorter, and each word more doubles the work."""

PLAIN_ASIDE = 0.98
"""A second name counts alone only where it is a name through and through."""

WHOLE_NAME = 0.9
"""A name that leaves no noun of the phrase unexplained scores at least this."""

FIRST_OF_TWO = 0.7

# What a word of the line costs when the name leaves it unexplained. Set by judgement, tried on labelled lines.
COST_CONTENT = 0.30
COST_HEAD = 0.30
COST_ORDER = 0.25
COST_CUT = 0.25
COST_QUALIFIER = 0.07
COST_CLASS = 0.04
COST_SHAPE = 0.02
COST_OTHER_REGION = 0.04
COST_OTHER_STATE = 0.15

# States that stand for one another without a conversion: the macros of frozen and raw food agree, what is canned is
# cooked already, and 'raw' said of a dried food means that it is not cooked.
_STAND_INS: dict[FoodState, tuple[str, ...]] = {
    FoodState.RAW: ("raw", "any", "dry", "frozen"),
    FoodState.FROZEN: ("frozen", "raw", "any", "cooked"),
    FoodState.DRY: ("dry", "any"),
    FoodState.CANNED: ("canned", "any", "cooked"),
    FoodState.COOKED: ("cooked", "any", "canned"),
}


@dataclass(frozen=True, slots=True)
class NameEntry:
    """One name in normal form with the rows it stands for; `foreign` when only other regions use it.

    head: the noun that says what the food is, '' where all words of the name qualify. inverted: the name is written
    with 'of'.
    """

    words: frozenset[str]
    head: str
    inverted: bool
    rows: tuple[DefaultFood, ...]
    foreign: bool


class DefaultFoodIndex:
    """The names of the default foods that a cook in a region would mean, searchable by words.

    Parameters
    ----------
    region : str
        Region of the recipe.
    rows : sequence of DefaultFood
        The table of default foods.
    groups : mapping
        Its name index, see `name_index`.
    """

    def __init__(self, region: str, rows: Sequence[DefaultFood], groups: Mapping[str, str]) -> None:
        self._region = region
        self._rows = rows
        self._groups = groups
        self._entries: dict[str, tuple[NameEntry, ...]] = {}
        self.words = frozenset(" ".join(groups).split())
        """Every word that stands in a name."""

    def entries(self, key: str) -> tuple[NameEntry, ...]:
        """The entries whose words, in alphabetical order with spaces between, are `key`: one for each head noun."""
        groups = self._groups.get(key)
        if groups is None:
            return ()
        if key not in self._entries:
            words = frozenset(key.split())
            self._entries[key] = tuple(
                _entry_for_region(words, head, [self._rows[number] for number in numbers], self._region)
                for head, numbers in rows_by_head(groups).items()
            )
        return self._entries[key]

    def fitting(self, available: frozenset[str]) -> list[NameEntry]:
        """Every entry all of whose words are available; of more than `MOST_WORDS` the most telling are tried."""
        known = sorted(sorted(available & self.words, key=_telling)[:MOST_WORDS])
        keys = (" ".join(chosen) for size in range(1, len(known) + 1) for chosen in combinations(known, size))
        return [entry for key in keys for entry in self.entries(key)]

    def family(self, words: frozenset[str], extra: frozenset[str]) -> list[NameEntry]:
        """Entries that hold all of `words` and at most two words of `extra` besides (whole, skim, nonfat)."""
        if not words:
            return []
        keys = (
            " ".join(sorted(words | set(chosen))) for size in range(3) for chosen in combinations(sorted(extra), size)
        )
        return [entry for key in dict.fromkeys(keys) for entry in self.entries(key)]

    def state_of(self, code: str) -> str:
        """The state in which the table of default foods knows a food code; '' where it does not hold it."""
        return next((row.state for row in self._rows if row.code == code), "")

    def codes_anywhere(self, food: str, state: str) -> list[str]:
        """Codes that a default food has in a state, in any region: fatter and leaner kinds are usual in others."""
        return [row.code for row in self._rows if row.food == food and row.state == state]


@lru_cache(maxsize=16)
def index_for(region: str) -> DefaultFoodIndex:
    """The index of a region, built once."""
    return DefaultFoodIndex(region, default_foods(), name_index())


def propose(query: Query, index: DefaultFoodIndex) -> Proposal | None:
    """The best default food for a query, or None when no name fits at all.

    A second name in brackets makes the first one plain: 'stock (chicken)' is chicken stock, 'drumsticks (moringa pods)'
    are pods; so does a word after a comma: 'cheese, feta'. Of 'pumpkin or butternut squash' the parser hands on
    'pumpkin squash'; where no food is called that, the words that the alternative lends are taken off again. Of 'salt
    and pepper' the first counts.

    Parameters
    ----------
    query : Query
        What is asked for.
    index : DefaultFoodIndex
        The names as a cook of the region means them.

    Returns
    -------
    Proposal or None
        With a score of 1 less what its name leaves unexplained. `code` is None for a food that is known to stand in no
        table.
    """
    best = _with_after_comma(query, index) or _propose_for(query, query.tokens, frozenset(), index)
    if query.aside:
        both = _propose_for(query, query.tokens, frozenset(query.aside), index)
        alone = _propose_for(query, query.aside, frozenset(), index)
        if both is not None and (best is None or both.score >= best.score):
            best = both
        elif alone is not None and alone.score >= PLAIN_ASIDE and (best is None or alone.score >= best.score):
            best = alone
    lent = query.lent_by_alternative
    if lent and (best is None or best.score < SURE):
        own = tuple(word for word in query.tokens if word not in lent)
        first = _propose_for(query, own, frozenset(), index)
        if first is not None and (best is None or first.score > best.score):
            best = first
    if query.first_of_two and (best is None or best.score < SURE):
        best = _first_of_two(query, index) or best
    if best is None or best.score < SURE:
        best = _written_apart(query, index) or best
    return best


def _written_apart(query: Query, index: DefaultFoodIndex) -> Proposal | None:
    """The food of a name that is one word, written as two: 'cat fish', 'pop corn'."""
    words = query.tokens
    for i in range(len(words) - 1):
        joined = words[i] + words[i + 1]
        if joined in index.words:
            found = _propose_for(query, (*words[:i], joined, *words[i + 2 :]), frozenset(), index)
            if found is not None and found.score >= SURE:
                return found
    return None


def _first_of_two(query: Query, index: DefaultFoodIndex) -> Proposal | None:
    """The first of two foods on one line; where there is an amount it is only a guess how much of it is meant."""
    first = _propose_for(query, query.first_of_two, frozenset(), index)
    if first is None or first.score < SURE:
        return None
    return first if query.line.amount is None else replace(first, score=FIRST_OF_TWO)


def _with_after_comma(query: Query, index: DefaultFoodIndex) -> Proposal | None:
    """The food of a name parted by a comma, as indexes write it: 'chicken, thigh' or 'sugar, caster'.

    Only a name that takes up the words on both sides counts: 'potatoes, butter' are potatoes.
    """
    behind = query.after_comma
    if not index.words.issuperset(behind):
        return None
    if behind != ("juice",) and (QUALIFIERS.issuperset(behind) or not SUBSTANCES.isdisjoint(behind)):
        return None
    orders = ((*query.tokens, *behind), (*behind, *query.tokens))
    found = [proposal for words in orders if (proposal := _propose_for(query, words, frozenset(), index)) is not None]
    best = max(found, key=lambda proposal: proposal.score, default=None)
    return best if best is not None and best.score >= WHOLE_NAME else None


def _propose_for(
    query: Query, words: tuple[str, ...], beside: frozenset[str], index: DefaultFoodIndex
) -> Proposal | None:
    """The best entry for `words`; with `beside`, only entries that take words from both."""
    asked = frozenset(words)
    head = head_noun(words)
    ranked = []
    for entry in index.fitting(asked | beside | query.qualifiers):
        without_head = head is not None and head not in entry.words
        if not entry.words & asked or (without_head and entry.words <= QUALIFIERS | STATES):
            continue
        if beside and not entry.words & (beside - asked):
            continue
        if entry.head and entry.head not in asked | beside:
            continue  # 'garlic, crushed with salt' is no garlic salt
        cost = _cost(words, head, entry) + (COST_OTHER_REGION if entry.foreign else 0.0)
        rank = (round(cost, 4), -len(entry.words), entry.inverted != query.inverted, -_position(words, entry.words))
        ranked.append((*rank, entry))
    if not ranked:
        return None
    ranked.sort(key=lambda item: item[:4])
    cost, *_, entry = ranked[0]
    row, state_differs = choose_row(entry.rows, query)
    score = max(0.0, 1.0 - cost - (COST_OTHER_STATE if state_differs else 0.0))
    return Proposal(
        table=BUNDLED_TABLE,
        code=None if row.code == "none" else row.code,
        description=row.description or row.food,
        score=score,
        strategy=STRATEGY,
        default_food=row.food,
        food_state=row.state,
        state_differs=state_differs,
        runners_up=_runners_up(row, entry, [item[4] for item in ranked[1:4]]),
    )


def choose_row(rows: tuple[DefaultFood, ...], query: Query) -> tuple[DefaultFood, bool]:
    """The row of a default food that serves a line.

    Parameters
    ----------
    rows : tuple of DefaultFood
        Rows of one food, one for each state.
    query : Query
        Gives the state, whether it is drained or lifted out of its liquid, and whether its unit is one of fresh herbs.

    Returns
    -------
    DefaultFood
        In the state that the line asks for or one that stands for it; else the row for no state.
    bool
        Whether even that row stands in another state, so that the mass must be converted.
    """
    wanted = _STAND_INS[query.state] if query.state is not None else ()
    canned = query.state is FoodState.CANNED or _default_row(rows).state == "canned"
    if canned and (query.spooned or "drained" in query.line.words):
        wanted = ("drained", *_STAND_INS[FoodState.CANNED])
    if wanted:
        for state in wanted:
            for row in rows:
                if row.state == state:
                    return row, False
        return _default_row(rows), True
    if query.fresh_unit:
        for row in rows:
            if row.state == "raw":
                return row, False
    return _default_row(rows), False


def _default_row(rows: tuple[DefaultFood, ...]) -> DefaultFood:
    return next((row for row in rows if row.is_default), rows[0])


def _cost(words: tuple[str, ...], head: str | None, entry: NameEntry) -> float:
    """What it costs to take the name of `entry` for a phrase: words left unexplained, another head noun."""
    cost = 0.0
    for position, word in enumerate(words):
        if word in entry.words or word in STATES or word in words[:position]:
            continue
        idle = word in IDLE_AT_THE_END and position == len(words) - 1
        if word in CLASS_WORDS and (idle or _described(word, entry)):
            cost += COST_CLASS
        elif word in NEUTRAL:
            cost += COST_SHAPE if word in NEVER_NEUTRAL else 0.0
        elif word in QUALIFIERS:
            cost += COST_QUALIFIER
        else:
            cost += COST_CUT if word in CUTS else COST_CONTENT
    if head is not None and head not in entry.words:
        cost += 0.0 if head in CUTS else COST_HEAD
    elif head is not None and entry.head != head and entry.head in words:
        cost += COST_ORDER  # 'rice pudding' is no 'pudding rice'
    return cost


def _described(word: str, entry: NameEntry) -> bool:
    """Whether a class word only repeats what the food is: 'pasta penne' is 'Pasta, dry'."""
    return any(word in tokens(row.description) for row in entry.rows)


def _telling(word: str) -> tuple[int, str]:
    weight = 2 if word in NEUTRAL else 1 if word in QUALIFIERS or word in STATES else 0
    return weight, word


def _position(words: tuple[str, ...], name: frozenset[str]) -> int:
    """How near the end of the phrase the name stands: English puts the noun last."""
    return sum(i for i, word in enumerate(words) if word in name)


def _runners_up(chosen: DefaultFood, entry: NameEntry, others: list[NameEntry]) -> tuple[Candidate, ...]:
    rows = [row for row in entry.rows if row.code != chosen.code]
    rows += [_default_row(other.rows) for other in others]
    unique: dict[str, Candidate] = {}
    for position, row in enumerate(rows):
        if row.code not in ("none", chosen.code):
            candidate = Candidate(BUNDLED_TABLE, row.code, row.description, round(max(0.1, 0.6 - 0.1 * position), 2))
            unique.setdefault(row.code, candidate)
    return tuple(unique.values())[:4]


def _entry_for_region(words: frozenset[str], label: str, rows: list[DefaultFood], region: str) -> NameEntry:
    head, inverted = label.removesuffix(" of"), label.endswith(" of")
    local = [row for row in rows if region in row.regions]
    general = [row for row in rows if not row.regions]
    # A name that only other regions use still means that food: a cook abroad writes courgette, too.
    abroad = [row for row in rows if row.regions == rows[0].regions]
    first = (local or general or abroad)[0]
    local_states = {row.state for row in local}
    chosen = local + [row for row in general if row.state not in local_states]
    # A name may stand for two foods; their rows never mix, or the state of a line would choose between foods.
    of_one_food = tuple(row for row in chosen or abroad if row.food == first.food)
    return NameEntry(words, head, inverted, of_one_food, not chosen)
