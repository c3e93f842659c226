"""The journal of cookings: only added to, read back, checked; and a batch as it was cooked."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mealcalc.errors import ConfigurationError, UsageError
from mealcalc.fooddb import FoodDatabase
from mealcalc.pipeline import calculate
from mealcalc.planning.as_cooked import as_cooked, as_recorded
from mealcalc.planning.cooked_record import add_cooking, as_entry, cooking_of, fingerprint, load_cooked
from mealcalc.planning.portioning import Division, weigh_out, with_weights
from mealcalc.records import Eater
from mealcalc.records.portions import CookedBatch, CookedComponent, CookedContainer, PotWeight, Step, Temperature
from tests.planning.portions import TEXT, batch

DAY = date(2026, 11, 24)
STEW = CookedComponent("Stew", weight_g=1000.0, gross_g=1980.0, tare_g=980.0, residue_g=40.0, leftover_g=60.0)
COOKING = CookedBatch(
    DAY,
    recipe=fingerprint(batch()),
    containers=3,
    components=(STEW, CookedComponent("Rice", estimated_g=840.0)),
    filled=(CookedContainer("adult", {"Stew": 400.0, "Rice": 300.0}), *[CookedContainer("", {"Stew": 250.0})] * 2),
    temperatures=(Temperature(Step.COOKING, 76.0, "Stew"), Temperature(Step.COOLING, 20.5, after_min=110.0)),
)

names = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), min_size=1, max_size=20)
grams = st.integers(1, 99_999).map(float)
cookings = st.builds(
    CookedBatch,
    day=st.dates(date(2000, 1, 1), date(2100, 1, 1)),
    recipe=st.sampled_from(["", "123456789012", "1e5000000000", "3fa9c1d2e4b5"]),
    variant=st.one_of(st.just(""), names),
    containers=st.one_of(st.none(), st.integers(1, 1000)),
    components=st.lists(
        st.builds(CookedComponent, name=names, weight_g=st.one_of(st.none(), grams), residue_g=grams), max_size=3
    ).map(tuple),
    filled=st.lists(
        st.builds(
            CookedContainer, eater=st.one_of(st.just(""), names), grams=st.dictionaries(names, grams, max_size=3)
        ),
        max_size=4,
    ).map(tuple),
    temperatures=st.lists(
        st.builds(
            Temperature,
            step=st.sampled_from(Step),
            celsius=st.integers(-40, 250).map(float),
            component=st.one_of(st.just(""), names),
            after_min=st.one_of(st.none(), st.integers(0, 10_000).map(float)),
        ),
        max_size=3,
    ).map(tuple),
)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(first=cookings, second=cookings)
def test_what_is_added_is_read_back_and_nothing_before_it_changes(
    tmp_path: Path, first: CookedBatch, second: CookedBatch
) -> None:
    path = tmp_path / "pots.cooked.yaml"
    path.unlink(missing_ok=True)
    add_cooking(path, first)
    text = path.read_text(encoding="utf-8")
    assert load_cooked(path) == [first]
    add_cooking(path, second)
    assert path.read_text(encoding="utf-8").startswith(text)
    if first.day != second.day:
        assert sorted(load_cooked(path), key=lambda c: c.day) == sorted((first, second), key=lambda c: c.day)


def test_comments_and_layout_of_the_cook_stay(tmp_path: Path) -> None:
    path = tmp_path / "pots.cooked.yaml"
    text = "# my pots\ncooked:\n- date: 2026-11-20   # a Friday\n  containers: 5\n# all eaten"
    path.write_text(text, encoding="utf-8")
    add_cooking(path, COOKING)
    assert path.read_text(encoding="utf-8").startswith(f"{text}\n- date: 2026-11-24\n")
    assert [c.containers for c in load_cooked(path)] == [5, 3]


def test_entries_of_one_day_are_one_cooking(tmp_path: Path) -> None:
    path = tmp_path / "pots.cooked.yaml"
    add_cooking(path, COOKING)
    later = Temperature(Step.REHEATING, 75.0)
    add_cooking(path, CookedBatch(DAY, temperatures=(later,)))
    add_cooking(path, CookedBatch(DAY, components=(CookedComponent("stew", weight_g=990.0),)))
    (cooking,) = load_cooked(path)
    assert cooking.temperatures == (*COOKING.temperatures, later)
    assert [c.weight_g for c in cooking.components] == [990.0, None]
    assert (cooking.containers, cooking.filled) == (3, COOKING.filled)


def test_the_cooking_of_a_day_or_the_last_one(tmp_path: Path) -> None:
    path = tmp_path / "pots.cooked.yaml"
    with pytest.raises(UsageError, match="no cooking is recorded"):
        cooking_of(path, None)
    add_cooking(path, COOKING)
    add_cooking(path, replace(COOKING, day=date(2026, 11, 1), containers=4))
    assert cooking_of(path, None).day == DAY
    assert cooking_of(path, date(2026, 11, 1)).containers == 4
    with pytest.raises(UsageError, match="no cooking of 2026-11-02 is recorded") as error:
        cooking_of(path, date(2026, 11, 2))
    assert error.value.hint == "recorded are: 2026-11-01, 2026-11-24"


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("cooked: nothing\n", ":1: 'cooked' must be a list"),
        ("coked: []\n", ":1: unknown key 'coked'"),
        ("cooked:\n  - containers: 3\n", ":2: an entry has no 'date'"),
        ("cooked:\n  - date: yesterday\n", ":2: 'yesterday' is no date"),
        ("cooked:\n  - date: 2026-02-30\n", ":2: '2026-02-30' is no date"),
        ("cooked:\n  - date: 2026-11-24\n    containers: many\n", ":3: 'many' is not a number of containers"),
        ("cooked:\n  - date: 2026-11-24\n    components: [{name: a, weight: 5 ml}]\n", ":3: weight '5 ml'"),
        ("cooked:\n  - date: 2026-11-24\n    components: [{weight: 5 g}]\n", ":3: a row of 'components' has no 'name'"),
        ("cooked:\n  - date: 2026-11-24\n    filled: [{grams: {a: lots}}]\n", ":3: 'lots' is not a number of grams"),
        ("cooked:\n  - date: 2026-11-24\n    filled: [{eater: a}]\n", ":3: a row of 'filled' has no 'grams'"),
        (
            "cooked:\n  - date: 2026-11-24\n    temperatures: [{step: frying, temperature: 76 C}]\n",
            "'frying' is no step",
        ),
        (
            "cooked:\n  - date: 2026-11-24\n    temperatures: [{step: cooking, temperature: 76}]\n",
            "'76' is no temperature",
        ),
        ("cooked:\n  - date: 2026-11-24\n    temperatures: [{step: cooking}]\n", "has no 'temperature'"),
        ("cooked: [\n", "this is no YAML"),
    ],
)
def test_a_damaged_journal_is_told_with_its_line_and_left_alone(tmp_path: Path, text: str, place: str) -> None:
    path = tmp_path / "pots.cooked.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ConfigurationError) as error:
        load_cooked(path)
    assert place in error.value.message
    with pytest.raises(ConfigurationError):
        add_cooking(path, COOKING)
    assert path.read_text(encoding="utf-8") == text


@pytest.mark.parametrize("text", ["cooked: [{date: 2026-11-20}]\n", "cooked:\n  - date: 2026-11-20\n...\n"])
def test_a_journal_that_cannot_be_added_to_is_left_alone(tmp_path: Path, text: str) -> None:
    path = tmp_path / "pots.cooked.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ConfigurationError, match="cannot be added"):
        add_cooking(path, COOKING)
    assert path.read_text(encoding="utf-8") == text


def test_the_fingerprint_follows_the_recipe() -> None:
    assert fingerprint(batch()) == fingerprint(batch(TEXT.replace("title: Rice and stew", "title: Other")))
    assert fingerprint(batch()) != fingerprint(batch(TEXT.replace("500 g beef", "501 g beef")))
    assert fingerprint(batch()) != fingerprint(batch(TEXT.replace("simmered 30", "simmered 40")))
    assert len(fingerprint(batch())) == 12


def test_figures_rest_on_the_real_pot(database: FoodDatabase) -> None:
    """1000 g in the pot, 40 g stay in it and 60 g are left over: nine tenths go into three containers."""
    changed, found = as_cooked(batch(), COOKING)
    assert changed.title == "Rice and stew, as cooked on 2026-11-24"
    assert [d.code for d in found] == ["not-weighed", "unequal-containers"]
    stew = changed.components[1]
    assert stew.cooked_mass_g == 1000.0
    assert stew.filled_share == pytest.approx(0.9)
    plain = calculate(batch(), database)
    result = calculate(changed, database)
    for key in ("ENERC_KCAL", "PROCNT_G", "FAT_G"):
        assert result.components[1].totals[key].amount == pytest.approx(0.9 * plain.components[1].totals[key].amount)
    assert result.components[0].totals["PROCNT_G"].amount == plain.components[0].totals["PROCNT_G"].amount


def test_containers_made_count_and_not_those_planned(database: FoodDatabase) -> None:
    changed, _ = as_cooked(batch(), replace(COOKING, containers=5))
    assert calculate(changed, database).batch.containers == 5


def test_a_recipe_changed_since_and_unknown_components_are_told() -> None:
    cooking = replace(COOKING, recipe="000000000000", components=(*COOKING.components, CookedComponent("Peas", 5.0)))
    codes = [d.code for d in as_cooked(batch(), cooking)[1]]
    assert codes[:2] == ["recipe-changed", "unknown-component"]


def test_the_variant_that_was_cooked_counts() -> None:
    text = TEXT + "variants:\n  - {name: no onions, leave_out: [onions]}\n  - {name: other, leave_out: [tomatoes]}\n"
    cooking = replace(COOKING, variant="No Onions", recipe="")
    changed, _ = as_cooked(batch(text), cooking)
    assert len(changed.components[1].lines) == 2
    assert as_cooked(batch(text), cooking, "no onions")[0] == changed
    with pytest.raises(UsageError, match="the variant 'No Onions' was cooked"):
        as_cooked(batch(text), cooking, "other")
    with pytest.raises(UsageError, match="the batch itself, no variant, was cooked"):
        as_cooked(batch(text), COOKING, "other")


def test_a_weigh_out_becomes_an_entry_and_an_entry_a_weigh_out(database: FoodDatabase, tmp_path: Path) -> None:
    pots = {"Stew": PotWeight("Stew", 1010.0, 1990.0, 980.0, "big pot")}
    eaters = (Eater("adult", 1.5, 1), Eater("child", 1.0, 2))
    result = calculate(with_weights(batch(), pots), database)
    weighed = weigh_out(result, Division(eaters=eaters, residue_g={"Stew": 10.0}), database, pots=pots)
    entry = as_entry(weighed, DAY, batch())
    rice, stew = entry.components
    assert (stew.weight_g, stew.gross_g, stew.tare_g, stew.residue_g) == (1010.0, 1990.0, 980.0, 10.0)
    assert rice.weight_g is None
    assert rice.estimated_g == weighed.components[0].pot_g
    path = tmp_path / "a.cooked.yaml"
    add_cooking(path, entry)
    again, recorded, division = as_recorded(batch(), cooking_of(path, DAY))
    shown = weigh_out(calculate(with_weights(again, recorded), database), division, database, pots=recorded)
    assert [(c.eater, c.grams) for c in shown.containers] == [(c.eater, c.grams) for c in weighed.containers]
    assert [(c.pot_g, c.residue_g, c.leftover_g) for c in shown.components] == [
        (c.pot_g, c.residue_g, c.leftover_g) for c in weighed.components
    ]
