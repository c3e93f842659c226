"""Batch files in YAML: every field, every place, every fault."""

import pytest

from tests.recipe.reading import assert_inside, batch_of, codes, errors, places, read, shown

FULL = """\
title: Smoky bean and turkey pots
region: au
containers: {count: 6, volume: 650 ml}
components:
  - name: Brown rice
    cooking: boiled, all water absorbed
    ingredients: |
      400 g brown rice

      900 ml water  # from the kettle
      # salt comes last
      salt to taste
  - name: Beans and turkey
    fat: drained
    cooked_weight: 2.14 kg
    ingredients:
      - 1 kg turkey mince, 7% fat
      - "200 g Greek yoghurt (optional)"
      - '2 onions, diced'
variants:
  - name: leaner
    replace: {"turkey mince": "1 kg turkey mince, 2% fat"}
  - name: no yoghurt
    leave_out: ["greek yoghurt"]
    add:
      brown rice: |
        1 bay leaf
        1 tsp each cumin and coriander
"""

RICE = """
components:
  - name: Rice
    ingredients: 400 g rice
"""
START = "region: au\ncontainers: 6"


def test_a_full_batch() -> None:
    result = read(FULL)
    batch = batch_of(result)
    assert result.diagnostics == ()
    assert result.region_ground == "stated in the file, line 2"
    assert (batch.title, batch.region, batch.containers) == ("Smoky bean and turkey pots", "au", 6)
    assert (batch.container_volume_ml, batch.file) == (650.0, "pots.batch.yaml")
    rice, beans = batch.components
    assert (rice.name, rice.cooking, rice.fat, rice.cooked_mass_g) == (
        "Brown rice",
        "boiled, all water absorbed",
        "kept",
        None,
    )
    assert (beans.name, beans.cooking, beans.fat, beans.cooked_mass_g) == ("Beans and turkey", "", "drained", 2140.0)
    assert str(beans.span) == "pots.batch.yaml:13:11"
    assert places(rice.lines) == [(8, 7, "400 g brown rice"), (10, 7, "900 ml water"), (12, 7, "salt to taste")]
    assert places(beans.lines) == [
        (17, 9, "1 kg turkey mince, 7% fat"),
        (18, 10, "200 g Greek yoghurt (optional)"),
        (19, 10, "2 onions, diced"),
    ]
    assert {line.component for line in beans.lines} == {"Beans and turkey"}


def test_variants_and_the_places_of_their_lines() -> None:
    leaner, no_yoghurt = batch_of(read(FULL)).variants
    assert (leaner.name, leaner.leave_out, leaner.add, str(leaner.span)) == (
        "leaner",
        (),
        {},
        "pots.batch.yaml:21:11",
    )
    assert list(leaner.replace) == ["turkey mince"]
    assert places(tuple(leaner.replace.values())) == [(22, 32, "1 kg turkey mince, 2% fat")]
    assert leaner.replace["turkey mince"].component == "Beans and turkey"
    assert no_yoghurt.leave_out == ("greek yoghurt",)
    assert list(no_yoghurt.add) == ["Brown rice"]
    assert [(line.span.line, line.text) for line in no_yoghurt.add["Brown rice"]] == [
        (27, "1 bay leaf"),
        (28, "1 tsp cumin"),
        (28, "1 tsp coriander"),
    ]


def test_a_line_with_several_foods_in_the_place_of_one() -> None:
    variant = batch_of(
        read(START + RICE + 'variants: [{name: a, replace: {rice: "1 cup each barley and millet"}}]')
    ).variants[0]
    assert variant.replace["rice"].text == "1 cup barley"
    assert [line.text for line in variant.add["Rice"]] == ["1 cup millet"]


@pytest.mark.parametrize("containers", ["6", "{count: 6}", '"6"', "6.0", "\n  count: 6"])
def test_ways_to_write_containers(containers: str) -> None:
    result = read(f"region: au\ncontainers: {containers}{RICE}")
    assert (batch_of(result).containers, result.diagnostics) == (6, ())


@pytest.mark.parametrize("volume", ["650 ml", "0,65 l", "65 cl", "650ML"])
def test_ways_to_write_a_volume(volume: str) -> None:
    batch = batch_of(read(f"region: au\ncontainers: {{count: 6, volume: '{volume}'}}{RICE}"))
    assert batch.container_volume_ml == pytest.approx(650)


def test_a_cup_is_that_of_the_region() -> None:
    batch = batch_of(read(f"region: us\ncontainers: {{count: 6, volume: 2 cups}}{RICE}"))
    assert batch.container_volume_ml == pytest.approx(473.176473)  # US pint, exact (NIST Handbook 44, appendix C)


@pytest.mark.parametrize("weight", ["2140 g", "2.14 kg", "2,140 g", "2,14 kg", "2140g"])
def test_ways_to_write_a_weight(weight: str) -> None:
    text = f"{START}\ncomponents: [{{name: Rice, cooked_weight: '{weight}', ingredients: 400 g rice}}]"
    assert batch_of(read(text)).components[0].cooked_mass_g == pytest.approx(2140)


@pytest.mark.parametrize(
    ("ingredients", "expected"),
    [
        (">\n      1 egg\n      2 figs\n", [(6, 7, "1 egg"), (7, 7, "2 figs")]),
        (">-\n\n      1 egg\n\n      2 figs", [(7, 7, "1 egg"), (9, 7, "2 figs")]),
        ("|2\n       1 egg\n      2 figs", [(6, 8, "1 egg"), (7, 7, "2 figs")]),
        ("|+ # all of it\n      1 egg\n\n\n", [(6, 7, "1 egg")]),
        ("1 egg\n      2 figs", [(5, 18, "1 egg"), (6, 7, "2 figs")]),
        ("1 egg # and 2 figs", [(5, 18, "1 egg")]),
        ('"1 egg\\n2 figs"', [(5, 19, "1 egg"), (5, 26, "2 figs")]),
        ('"1 cr\\u00eape"', [(5, 18, "1 crêpe")]),
        ("[1 egg, 2 figs]", [(5, 19, "1 egg"), (5, 26, "2 figs")]),
        ("\n      - |\n        1 egg\n        2 figs\n      - 1 fig",
         [(7, 9, "1 egg"), (8, 9, "2 figs"), (9, 9, "1 fig")]),
        ("'1 egg\n\n      2 figs'", [(5, 19, "1 egg"), (7, 7, "2 figs")]),
        ("\n    - # nothing\n    - 1 egg\n    -", [(7, 7, "1 egg")]),
    ],
    ids=[
        "folded", "folded with blanks", "indent given", "kept ends", "plain", "comment", "escaped line end", "escape",
        "flow list", "list of blocks", "quotes with a blank line", "empty items",
    ],
)  # fmt: skip
def test_every_way_to_write_lines_has_places(ingredients: str, expected: list[tuple[int, int, str]]) -> None:
    text = f"{START}\ncomponents:\n  - name: Rice\n    ingredients: {ingredients}"
    result = read(text)
    assert places(batch_of(result).lines) == expected
    assert errors(result) == []
    assert_inside(result, text)


def test_folded_lines_are_read_one_by_one_with_a_note() -> None:
    result = read(f"{START}\ncomponents:\n  - name: Rice\n    ingredients: >\n      1 egg\n      2 figs\n")
    assert shown(result.diagnostics) == (
        "pots.batch.yaml:5:18: note: YAML joins the lines of a folded block ('>'); in the ingredients of 'Rice' each "
        "line is read as a line of its own [joined-lines]\n"
        "        ingredients: >\n"
        "                     ^\n"
        "  hint: write lines of ingredients ('ingredients: |' and one per line)"
    )


def test_lines_joined_in_quotes_are_a_warning() -> None:
    result = read(f'{START}\ncomponents:\n  - name: Rice\n    ingredients: "1 egg\n      2 figs"\n')
    assert [line.text for line in batch_of(result).lines] == ["1 egg 2 figs"]
    assert codes(result) == ["joined-lines"]
    assert result.diagnostics[0].severity == "warning"


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"], ids=["lf", "crlf", "cr"])
def test_line_ends_keep_places(ending: str) -> None:
    assert batch_of(read(FULL.replace("\n", ending))) == batch_of(read(FULL))


def test_a_batch_without_title_is_called_by_its_file() -> None:
    assert batch_of(read(START + RICE, "kitchen/smoky-bean_pots.batch.yaml")).title == "smoky bean pots"


def test_text_fields_take_what_yaml_calls_something_else() -> None:
    batch = batch_of(read(f"title: 2024-01-01\n{START}\ncomponents:\n  - name: no\n    ingredients: 0x10 eggs\n"))
    assert (batch.title, batch.components[0].name, batch.lines[0].text) == ("2024-01-01", "no", "0x10 eggs")


def test_an_alias_may_be_used() -> None:
    rows = "- {name: &a Rice, ingredients: [1 egg]}\n- {name: B, cooking: *a, ingredients: 1 fig}"
    batch = batch_of(read(f"{START}\ncomponents:\n{rows}"))
    assert batch.components[1].cooking == "Rice"


def test_one_food_on_several_lines_may_be_left_out_but_not_replaced() -> None:
    text = f"{START}\ncomponents:\n- name: A\n  ingredients: |\n    1 tsp salt\n    2 tsp salt\n    1 egg\n"
    left_out = read(text + "variants:\n- name: plain\n  leave_out: salt\n")
    assert (errors(left_out), batch_of(left_out).variants[0].leave_out) == ([], ("salt",))
    replaced = read(text + "variants:\n- name: plain\n  replace: {salt: 1 tsp pepper}\n")
    assert (errors(replaced), dict(batch_of(replaced).variants[0].replace)) == (["variant-several-lines"], {})
