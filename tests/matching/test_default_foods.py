"""The strategy of default foods on a table of a dozen rows."""

from collections.abc import Callable
from typing import Any

import pytest

from mealcalc.matching.default_foods import DefaultFoodIndex, propose
from mealcalc.matching.name_index import generate, read
from mealcalc.matching.proposal import DECLINED, SURE, Proposal
from mealcalc.matching.query import build_query
from mealcalc.matching.spelling import Speller
from mealcalc.records import Amount, FoodState, RecipeLine
from mealcalc.reference.tables import DefaultFood
from tests.matching.shelf import line


def row(
    names: str, code: str, state: str = "any", regions: str = "", description: str = "", *, default: bool = True
) -> DefaultFood:
    first, *_ = names.split("|")
    return DefaultFood(
        first, tuple(names.split("|")), frozenset(regions.split()), state, default, code, description or first, ""
    )


ROWS = [
    row("garlic", "11215", "raw"),
    row("milk", "01077"),
    row("butter", "01001"),
    row("rice", "20444", "dry"),
    row("rice", "20045", "cooked", default=False),
    row("pudding rice|short grain rice", "20052", "dry"),
    row("chicken thigh|thigh", "05096", "raw"),
    row("chicken", "05011", "raw"),
    row("cod", "15015", "raw", description="Fish, cod, Atlantic, raw"),
    row("cheddar|cheese", "01009", description="Cheese, cheddar"),
    row("feta|feta cheese", "01019", description="Cheese, feta"),
    row("canned tuna|tuna in water|tuna|tuna in springwater", "15121", "canned"),
    row("tuna in oil|canned tuna in oil", "15119", "canned"),
    row("tuna steak", "15117", "raw"),
    row("thyme", "02042", "dry"),
    row("thyme", "02049", "raw", default=False),
    row("coriander", "11165", "raw", "uk au"),
    row("coriander", "02013", "dry", "us"),
    row("courgette", "11477", "raw", "uk"),
    row("pepper", "02030"),
    row("bell pepper|sweet pepper|pepper", "11821", "raw", "au"),
    row("yam", "11601", "raw"),
    row("yam", "11602", "cooked", default=False),
    row("sweet potato|yam", "11507", "raw", "us"),
    row("chickpea", "16358", "canned"),
    row("chickpea", "16056", "dry", default=False),
    row("sweetcorn", "11172", "drained"),
    row("sweetcorn", "11174", "canned", default=False),
    row("oat cream", "none"),
    row("stock cube", "06081"),
    row("chicken stock|chicken broth", "06194"),
    row("moringa pod", "11620", "raw"),
    row("drumstick|chicken drumstick", "05066", "raw"),
    row("pumpkin", "11422", "raw"),
    row("butternut squash", "11485", "raw"),
    row("olive oil", "04053"),
    row("pork", "10002", "raw"),
    row("lemon", "09150", "raw"),
    row("lemon juice", "09152"),
    row("egg yolk", "01125", "raw"),
    row("egg", "01123", "raw"),
    row("leg of lamb|lamb leg", "17013", "raw"),
    row("cream of coconut", "12116"),
    row("coconut cream", "12118"),
    row("skinless chicken breast", "05062", "raw"),
    row("chicken breast", "05057", "raw"),
]
INDEX_TEXT = generate(ROWS)

Ask = Callable[..., Proposal | None]


@pytest.fixture
def ask() -> Ask:
    def ask(name: str, region: str = "uk", **fields: Any) -> Proposal | None:
        return ask_line(line(name, **fields), region)

    return ask


def ask_line(asked: RecipeLine, region: str) -> Proposal | None:
    index = DefaultFoodIndex(region, ROWS, read(INDEX_TEXT))
    return propose(build_query(asked, region, Speller(index.words, frozenset)), index)


def code_of(proposal: Proposal | None) -> str | None:
    assert proposal is not None
    return proposal.code


def test_a_proposal_in_full(ask: Ask) -> None:
    assert ask("rice", state=FoodState.COOKED) == Proposal(
        table="sr28",
        code="20045",
        description="rice",
        score=1.0,
        strategy="default food",
        default_food="rice",
        food_state="cooked",
        state_differs=False,
        runners_up=ask("rice", state=FoodState.COOKED).runners_up,  # type: ignore[union-attr]
    )


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("garlic", "11215"),
        ("fresh garlic cloves", "11215"),
        ("Organic MILK", "01077"),
        ("cod fillets", "15015"),  # a cut of fish is that fish
        ("cod fish", "15015"),  # so is a fish called fish
        ("short-grain rice", "20052"),
        ("thighs", "05096"),
        ("tuna in spring water", "15121"),
        ("tuna in oil", "15119"),
        ("leg of lamb", "17013"),
        ("lamb leg", "17013"),
        ("thigh of chicken", "05096"),
        ("cream of coconut", "12116"),
        ("coconut cream", "12118"),
    ],
)
def test_sure_names(ask: Ask, name: str, code: str) -> None:
    proposal = ask(name)
    assert code_of(proposal) == code
    assert proposal.score >= SURE  # type: ignore[union-attr]


@pytest.mark.parametrize("name", ["garlic bread", "almond milk pudding", "tuna salad", "lemon curd"])
def test_another_noun_at_the_end_makes_another_food(ask: Ask, name: str) -> None:
    proposal = ask(name)
    assert proposal is None or proposal.score < DECLINED


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("almond milk", "01077"),  # some milk or other
        ("rice pudding", "20052"),  # the words of 'pudding rice', another noun
        ("pork neck", "10002"),  # an unlisted cut of a listed animal
        ("garlic butter", "01001"),
        ("butter beans", "01001"),
    ],
)
def test_doubtful_names_are_not_sure(ask: Ask, name: str, code: str) -> None:
    proposal = ask(name)
    assert code_of(proposal) == code
    assert DECLINED <= proposal.score < SURE  # type: ignore[union-attr]


def test_a_class_word_before_another_noun_is_not_ignored(ask: Ask) -> None:
    assert ask("fish milk").score < SURE  # type: ignore[union-attr]
    assert ask("cod fish").score >= SURE  # type: ignore[union-attr]


def test_no_name_no_proposal(ask: Ask) -> None:
    assert ask("zzyzxwort") is None


def test_a_food_known_to_be_in_no_table(ask: Ask) -> None:
    proposal = ask("oat cream")
    assert code_of(proposal) is None
    assert proposal.score == 1.0  # type: ignore[union-attr]


# --- regions ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "region", "code"),
    [
        ("coriander", "uk", "11165"),
        ("coriander", "us", "02013"),
        ("pepper", "uk", "02030"),
        ("pepper", "au", "11821"),
        ("yam", "us", "11507"),
        ("yam", "uk", "11601"),
    ],
)
def test_the_row_of_the_region_comes_first(ask: Ask, name: str, region: str, code: str) -> None:
    assert code_of(ask(name, region)) == code


def test_a_name_that_only_other_regions_use_still_means_that_food(ask: Ask) -> None:
    proposal = ask("courgette", "us")
    assert code_of(proposal) == "11477"
    assert SURE <= proposal.score < 1.0  # type: ignore[union-attr]


def test_rows_of_two_foods_of_one_name_never_mix(ask: Ask) -> None:
    """A cook in the us means sweet potato by yam; cooked yam there is sweet potato, not the other region's yam."""
    proposal = ask("yam", "us", state=FoodState.COOKED)
    assert (code_of(proposal), proposal.state_differs) == ("11507", True)  # type: ignore[union-attr]


# --- states -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "state", "code", "differs"),
    [
        ("rice", None, "20444", False),
        ("rice", FoodState.DRY, "20444", False),
        ("rice", FoodState.RAW, "20444", False),  # uncooked rice is dry rice
        ("rice", FoodState.COOKED, "20045", False),
        ("chickpea", FoodState.COOKED, "16358", False),  # what is canned is cooked
        ("chickpea", FoodState.DRY, "16056", False),
        ("garlic", FoodState.FROZEN, "11215", False),  # frozen raw food is that food
        ("garlic", FoodState.COOKED, "11215", True),
        ("milk", FoodState.COOKED, "01077", False),  # a food in no particular state serves for all
    ],
)
def test_the_row_of_the_state(ask: Ask, name: str, state: FoodState | None, code: str, differs: bool) -> None:
    proposal = ask(name, state=state)
    assert (code_of(proposal), proposal.state_differs) == (code, differs)  # type: ignore[union-attr]


def test_another_state_costs_certainty(ask: Ask) -> None:
    assert ask("garlic", state=FoodState.COOKED).score < ask("garlic").score  # type: ignore[union-attr]


def test_drained_food_of_a_can_takes_the_drained_row(ask: Ask) -> None:
    assert code_of(ask("sweetcorn", state=FoodState.CANNED, words=frozenset(["drained"]))) == "11172"
    assert code_of(ask("sweetcorn", state=FoodState.CANNED)) == "11174"


@pytest.mark.parametrize(("unit", "code"), [("sprig", "02049"), ("bunch", "02049"), ("tsp", "02042"), ("g", "02042")])
def test_herbs_by_the_sprig_are_fresh(ask: Ask, unit: str, code: str) -> None:
    assert code_of(ask("thyme", amount=Amount(2, 2, unit))) == code


# --- second names, alternatives, words after a comma ------------------------------------------------------------------


def test_a_second_name_in_brackets_completes_the_first(ask: Ask) -> None:
    assert code_of(ask("stock", aside="chicken")) == "06194"


def test_a_second_name_in_brackets_corrects_the_first(ask: Ask) -> None:
    assert code_of(ask("drumsticks", aside="moringa pods")) == "11620"
    assert code_of(ask("drumsticks")) == "05066"


def test_words_lent_by_an_alternative_are_taken_off_again(ask: Ask) -> None:
    assert code_of(ask("pumpkin squash", alternatives=("butternut squash",))) == "11422"
    assert code_of(ask("olive oil", alternatives=("rapeseed oil",))) == "04053"


@pytest.mark.parametrize(
    ("name", "preparation", "code"),
    [
        ("cheese", "feta", "01019"),
        ("chicken", "thigh, boneless", "05096"),
        ("fish", "cod", "15015"),
        ("eggs", "yolks only", "01125"),
        ("lemon", "juice", "09152"),
        ("eggs", "beaten with milk", "01123"),
        ("lemon", "cut into wedges", "09150"),
        ("garlic", "butter", "11215"),
        ("chicken", "cut like thighs", "05011"),
    ],
)
def test_a_word_after_a_comma_names_the_food_where_it_says_nothing_else(
    ask: Ask, name: str, preparation: str, code: str
) -> None:
    assert code_of(ask(name, preparation=preparation)) == code


def test_the_noun_may_stand_after_the_comma(ask: Ask) -> None:
    assert code_of(ask("large", preparation="fresh, free-range eggs")) == "01123"


def test_qualifiers_from_the_rest_of_the_line_choose_the_name(ask: Ask) -> None:
    assert code_of(ask("chicken breast", words=frozenset(["skinless"]))) == "05062"
    assert code_of(ask("chicken breast", preparation="skinless")) == "05062"
    assert code_of(ask("tuna", preparation="packed in oil, drained")) == "15119"


def test_what_a_food_is_dressed_with_is_not_what_it_is_packed_in(ask: Ask) -> None:
    assert code_of(ask("tuna", preparation="tossed with oil")) == "15121"


def test_of_many_words_the_most_telling_are_tried(ask: Ask) -> None:
    adjectives = "big chilled clean cold coarse cubed chopped crushed extra fresh"
    assert code_of(ask(f"{adjectives} zesty skinless chicken breast")) == "05062"


def test_a_name_of_one_word_may_be_written_as_two(ask: Ask) -> None:
    assert code_of(ask("butter nut squash")) == "11485"
    assert code_of(ask("ched dar")) == "01009"


def test_words_that_are_no_name_together_stay_apart(ask: Ask) -> None:
    assert ask("cat fish") is None
