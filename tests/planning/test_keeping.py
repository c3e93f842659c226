"""Kinds of dish, guidance strictest first, and the plan of dates."""

from collections.abc import Callable, Sequence
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mealcalc.diagnostics import Diagnostic
from mealcalc.errors import UsageError
from mealcalc.planning.date_plan import THAW_UNIT_G, make_plan
from mealcalc.planning.dish_kinds import kinds_of
from mealcalc.planning.keeping import guidance_for, keep, months_later, strictest_of_each
from mealcalc.records import BatchResult
from mealcalc.records.keeping import ComponentKinds, Keeping
from mealcalc.reference.keeping_tables import authorities, chosen_authorities, dish_kinds

COOKED = date(2026, 3, 2)

Calculate = Callable[[str], BatchResult]


def _keep(
    result: BatchResult, names: Sequence[str] = (), per_day: int = 1, **more: date
) -> tuple[Keeping, list[Diagnostic]]:
    return keep(
        result,
        chosen_authorities(names),
        COOKED,
        eaten_per_day=per_day,
        eat_from=more.get("eat_from"),
        today=more.get("today"),
    )


def _batch(*components: str, containers: int = 4) -> str:
    return f"title: Test\nregion: uk\ncontainers: {containers}\ncomponents:\n" + "".join(components)


def _component(name: str, *lines: str, cooking: str = "") -> str:
    words = f"    cooking: {cooking}\n" if cooking else ""
    return f"  - name: {name}\n{words}    ingredients: |\n" + "".join(f"      {line}\n" for line in lines)


@pytest.mark.parametrize(
    ("component", "kinds"),
    [
        (_component("Grain", "300 g basmati rice", "600 ml water"), {"rice", "without_meat"}),
        (_component("Vegetable risotto", "300 g arborio rice", "200 g peas"), {"rice", "without_meat"}),
        (_component("Chicken", "800 g chicken thighs", cooking="roasted"), {"poultry", "with_meat"}),
        (
            _component("Beef stew", "800 g stewing beef", "400 g carrots", cooking="braised 2 hours"),
            {"meat", "with_meat", "whole_meat", "meat_in_gravy", "soup_or_stew"},
        ),
        (_component("Mince", "500 g lean beef mince"), {"meat", "with_meat", "minced_meat"}),
        (_component("Baked cod", "600 g cod fillet"), {"fish", "with_meat"}),
        (_component("Prawns", "300 g raw prawns"), {"shellfish", "with_meat"}),
        (_component("Pasta", "400 g dried penne"), {"pasta", "without_meat"}),
        (_component("Leek soup", "500 g leeks", "1 l water"), {"soup_or_stew", "vegetable_soup", "without_meat"}),
        (_component("Eggs", "6 eggs, hard-boiled"), {"egg", "with_meat"}),
        (_component("Salad", "300 g quinoa", "200 g tomatoes"), {"quinoa", "without_meat"}),
        (_component("Cauliflower rice", "800 g cauliflower"), {"without_meat"}),
        (_component("Mash", "1 kg potatoes", "1 tbsp rice vinegar"), {"without_meat"}),
        (_component("Beans", "500 g black beans, cooked", "2 g chicken, cooked"), {"without_meat"}),
    ],
    ids=lambda value: value.split("\n")[0].removeprefix("  - name: ") if isinstance(value, str) else "",
)
def test_kinds_of_dish(calculated: Calculate, component: str, kinds: set[str]) -> None:
    (found,) = kinds_of(calculated(_batch(component)))
    assert {kind.kind for kind, _ in found.kinds} == kinds | {"any"}


def test_a_food_of_no_table_still_says_of_which_kind_it_is(calculated: Calculate) -> None:
    (found,) = kinds_of(calculated(_batch(_component("Main", "500 g wobbleberry fish fingers [food none]"))))
    kinds = {kind.kind: why for kind, why in found.kinds}
    assert "fish" in kinds


def test_a_container_is_limited_by_its_shortest_lived_component(smoky: BatchResult) -> None:
    keeping, _ = _keep(smoky)
    first = keeping.topics["refrigerator"][0]
    assert (first.authority.authority, first.dish.kind, first.components) == ("uk_fsa", "rice", ("Brown rice",))
    assert first.last_day == COOKED + timedelta(days=1)
    assert keeping.plan.fridge_limit == first
    assert [row.guidance.low for row in strictest_of_each(keeping.topics["refrigerator"])] == [1, 2, 3, 3, 3, 3, 7]


def test_the_day_of_cooking_counts_as_the_text_says(smoky: BatchResult) -> None:
    keeping, _ = _keep(smoky, ["us_fda"])
    (row,) = keeping.topics["refrigerator"]
    assert row.guidance.low == 7
    assert row.last_day == COOKED + timedelta(days=6)  # the day of preparation is day 1
    assert keeping.plan.freezer_limit is None


def test_hotter_reheating_is_stricter_and_held_longer_at_the_same_temperature(smoky: BatchResult) -> None:
    rows = _keep(smoky)[0].topics["reheat"]
    assert [(row.guidance.low, row.guidance.hold_s) for row in rows] == [
        (82, None), (75, 30), (74, 15), (74, 0), (60, None)
    ]  # fmt: skip


def test_cautions_name_their_authority_or_say_that_they_are_ours(smoky: BatchResult) -> None:
    cautions = _keep(smoky, ["us"])[0].cautions  # whoever is chosen
    assert any("Bacillus cereus" in caution and "Food Standards Agency" in caution for caution in cautions)
    assert any(caution.startswith("Reheat once only") for caution in cautions)
    for caution in cautions:
        assert caution.endswith(".")
        assert any(a.name in caution for a in authorities().values()) or "no authority quoted" in caution


def test_what_outlasts_the_refrigerator_is_frozen_on_the_day_and_thawed_in_time(smoky: BatchResult) -> None:
    keeping, found = _keep(smoky, per_day=2)
    assert found == []
    kept = [(c.eat_on - COOKED, c.frozen_on, c.thaw_from) for c in keeping.plan.containers]
    day = timedelta(days=1)
    assert kept[:2] == [(day, None, None)] * 2
    assert kept[2:4] == [(2 * day, COOKED, COOKED + day)] * 2
    assert kept[4:] == [(3 * day, COOKED, COOKED + 2 * day)] * 2
    assert keeping.plan.freezer_best_before == date(2026, 4, 2)


def test_more_patient_guidance_freezes_less(smoky: BatchResult) -> None:
    keeping, _ = _keep(smoky, ["us_foodkeeper"])
    assert [c.frozen_on is None for c in keeping.plan.containers] == [True, True, True, False, False, False]
    assert keeping.plan.containers[-1].limit is None  # nobody chosen says how long thawed food keeps
    assert keeping.plan.containers[-1].last_day == keeping.plan.containers[-1].eat_on


def test_heavy_containers_thaw_longer(calculated: Calculate) -> None:
    result = calculated(_batch(_component("Soup", "6 kg carrots", "6 l water"), containers=3))
    keeping, _ = _keep(result, ["us", "uk_fss"])
    assert keeping.container_mass_g is not None
    assert THAW_UNIT_G < keeping.container_mass_g < 2 * THAW_UNIT_G
    last = keeping.plan.containers[-1]
    assert last.thaw_from == last.eat_on - timedelta(days=2)


def test_where_freezing_is_not_recommended_the_rest_is_named(calculated: Calculate) -> None:
    result = calculated(_batch(_component("Pasta salad", "400 g dried penne", "100 g tomatoes"), containers=6))
    keeping, found = _keep(result)
    assert all(c.frozen_on is None for c in keeping.plan.containers)
    (finding,) = found
    assert finding.code == "beyond-guidance"
    assert "containers 3, 4, 5 and 6" in finding.message
    assert "does not recommend freezing (pasta salad)" in finding.message


def test_authorities_without_figures_are_told(smoky: BatchResult) -> None:
    keeping, found = _keep(smoky, ["au_fsanz"])
    assert [d.code for d in found] == ["no-guidance", "no-guidance"]
    assert all(c.last_day is None and not c.covered for c in keeping.plan.containers)


def test_dates_that_have_passed_are_told(smoky: BatchResult) -> None:
    _, found = _keep(smoky, today=COOKED + timedelta(days=3))
    assert [d.code for d in found] == ["dates-in-the-past"]
    assert "containers 1 and 2 before today, 2026-03-05" in found[0].message
    assert _keep(smoky, today=COOKED)[1] == []


def test_a_plan_beyond_the_freezer_months_is_told(smoky: BatchResult) -> None:
    _, found = _keep(smoky, eat_from=COOKED + timedelta(days=40))
    assert [d.code for d in found] == ["beyond-freezer-months"]
    assert "2026-04-02" in found[0].message


def test_eating_before_cooking_and_nothing_a_day_are_refused(smoky: BatchResult) -> None:
    with pytest.raises(UsageError, match="before cooking"):
        _keep(smoky, eat_from=COOKED - timedelta(days=1))
    with pytest.raises(UsageError, match="0 containers eaten on a day"):
        _keep(smoky, per_day=0)


@pytest.mark.parametrize(
    ("day", "months", "later"),
    [
        (date(2026, 1, 31), 1, date(2026, 2, 28)),
        (date(2027, 11, 30), 3, date(2028, 2, 29)),
        (date(2026, 12, 15), 12, date(2027, 12, 15)),
        (date(2026, 12, 31), 1, date(2027, 1, 31)),
    ],
)
def test_months_later(day: date, months: int, later: date) -> None:
    assert months_later(day, months) == later


@given(
    st.integers(1, 60),
    st.integers(1, 7),
    st.one_of(st.none(), st.floats(50.0, 6000.0)),
    st.sets(st.sampled_from(sorted(dish_kinds())), min_size=1, max_size=4),
    st.sets(st.sampled_from(sorted(authorities())), min_size=1, max_size=5),
    st.integers(0, 5),
)
def test_every_plan_holds_together(
    containers: int, per_day: int, mass_g: float | None, kinds: set[str], chosen: set[str], wait_days: int
) -> None:
    component = ComponentKinds("Main", tuple((dish_kinds()[kind], "") for kind in sorted(kinds | {"any"})))
    topics = guidance_for([component], chosen_authorities(sorted(chosen)), COOKED)
    first_day = COOKED + timedelta(days=wait_days)
    plan, found = make_plan(topics, containers, mass_g, COOKED, per_day, first_day, None)
    assert [c.number for c in plan.containers] == list(range(1, containers + 1))
    limit = None if plan.fridge_limit is None else plan.fridge_limit.last_day
    for c in plan.containers:
        assert c.eat_on == first_day + timedelta(days=(c.number - 1) // per_day)
        assert (c.frozen_on is None) == (c.thaw_from is None)
        if c.thaw_from is not None and c.last_day is not None:
            assert COOKED < c.thaw_from < c.eat_on <= c.last_day
            assert limit is not None
            assert c.eat_on > limit
        elif c.covered:
            assert limit is not None
            assert c.eat_on <= limit
    uncovered = [c for c in plan.containers if not c.covered]
    assert bool(uncovered) == (limit is None or "beyond-guidance" in {d.code for d in found})
