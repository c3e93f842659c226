"""The names of default foods, worked out in advance."""

from importlib import resources

from hypothesis import given
from hypothesis import strategies as st

from mealcalc.matching.name_index import generate, name_index, read, rows_by_head
from mealcalc.reference.tables import DefaultFood, default_foods


def row(*names: str) -> DefaultFood:
    return DefaultFood(names[0], names, frozenset(), "any", True, "00001", "A food", "")


def test_the_shipped_index_is_up_to_date() -> None:
    shipped = resources.files("mealcalc.reference").joinpath("default_names.tsv").read_text(encoding="utf-8")
    # Regenerate it with: python -m mealcalc.matching.name_index
    assert shipped == generate(default_foods())


def test_names_of_the_same_words_are_told_apart_by_their_head_noun() -> None:
    rows = [row("chocolate milk"), row("milk chocolate"), row("coconut cream", "cream of coconut")]
    assert generate(rows) == "chocolate milk\tchocolate:1;milk:0\ncoconut cream\tcream:2;cream of:2\n"


def test_what_a_food_is_packed_in_is_no_head_noun() -> None:
    assert generate([row("tuna in oil"), row("fish oil")]) == "fish oil\toil:1\noil tuna\ttuna:0\n"


def test_a_name_of_qualifiers_only_has_no_head() -> None:
    assert generate([row("light")]) == "light\t:0\n"


def test_two_names_that_mean_the_same_words_give_one_row() -> None:
    assert generate([row("spring onions", "Spring onion")]) == "onion spring\tonion:0\n"


@given(st.lists(st.lists(st.from_regex(r"[a-z]{3,8}( [a-z]{3,8}){0,3}", fullmatch=True), min_size=1), max_size=8))
def test_every_row_is_found_under_each_of_its_names(names: list[list[str]]) -> None:
    index = read(generate([row(*of_row) for of_row in names]))
    numbers = {number for groups in index.values() for of_head in rows_by_head(groups).values() for number in of_head}
    with_words = {n for n, of_row in enumerate(names) if generate([row(*of_row)])}
    assert numbers == with_words


def test_every_row_of_the_shipped_table_is_found() -> None:
    numbers = {n for groups in name_index().values() for of_head in rows_by_head(groups).values() for n in of_head}
    assert numbers == set(range(len(default_foods())))
