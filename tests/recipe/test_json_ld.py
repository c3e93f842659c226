"""schema.org Recipe as JSON-LD, alone and inside web pages (https://schema.org/Recipe)."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.recipe.reading import assert_inside, batch_of, codes, errors, places, read, shown

LINES = ["400 g brown rice", "2 onions, diced"]
RECIPE: dict[str, Any] = {"@type": "Recipe", "name": "Rice pots", "recipeYield": 6, "recipeIngredient": LINES}

PAGE = """\
<!doctype html>
<html><head><title>Rice &amp; onions</title>
<script>if (a < b) { document.write("<script>"); }</script>
<script type="application/ld+json">{"@type": "WebSite", "name": "Kitchen"}</script>
<script type="application/ld+json">{"@type": "Recipe" 5}</script>
<SCRIPT TYPE='application/ld+json; charset=utf-8'>
//<![CDATA[
{
  "@context": "https://schema.org",
  "@graph": [
    {"@type": ["Thing", "Recipe"],
     "name": "Rice &amp; onion pots",
     "recipeYield": "6 servings",
     "recipeIngredient": [
       "400 g brown rice",
       "2 onions, <b>diced</b>", "1\\u00bd tsp salt",
       "&frac12; tin cr&amp;egrave;me"
     ]}
  ]
}
//]]>
</SCRIPT>
</head><body><p>400 g brown rice</body></html>
"""


def read_json(content: object, name: str = "pots.json") -> Any:
    return read(json.dumps(content), name, "au")


def test_a_page() -> None:
    result = read(PAGE, "pots.html", "uk")
    batch = batch_of(result)
    assert (batch.title, batch.region, batch.containers) == ("Rice & onion pots", "uk", 6)
    assert [component.name for component in batch.components] == ["batch"]
    assert places(batch.lines) == [
        (15, 9, "400 g brown rice"),
        (16, 9, "2 onions, diced"),
        (16, 35, "1½ tsp salt"),
        (17, 9, "½ tin crème"),
    ]
    assert shown(result.diagnostics) == (
        "pots.html:5:55: warning: this is no JSON and is skipped: expecting ',' delimiter [json-syntax]\n"
        '    <script type="application/ld+json">{"@type": "Recipe" 5}</script>\n'
        "                                                          ^\n"
        "  hint: mend this place"
    )


@pytest.mark.parametrize(
    "content",
    [
        RECIPE,
        [RECIPE],
        [{"@type": "Person"}, RECIPE],
        {"@graph": [RECIPE]},
        {"@graph": [{"@type": "WebPage", "mainEntity": RECIPE}]},
        {"@type": "WebPage", "mainEntityOfPage": [RECIPE]},
        {**RECIPE, "@type": ["Recipe"]},
        {**RECIPE, "@type": "http://schema.org/Recipe"},
        {**RECIPE, "@type": "schema:Recipe"},
        {"@type": "Recipe", "name": "Rice pots", "recipeYield": 6, "ingredients": LINES},
        {**RECIPE, "recipeIngredient": "400 g brown rice\n2 onions, diced"},
        {**RECIPE, "recipeIngredient": "400 g brown rice<br/>2 onions, diced"},
        {**RECIPE, "recipeIngredient": [{"@type": "PropertyValue", "name": LINES[0]}, LINES[1]]},
        {**RECIPE, "recipeIngredient": {"@type": "ItemList", "itemListElement": LINES}},
        {**RECIPE, "recipeIngredient": [" 400 g  brown rice ", "", "2&nbsp;onions, diced"]},
    ],
)
def test_where_and_how_a_recipe_may_stand(content: object) -> None:
    result = read_json(content)
    batch = batch_of(result)
    assert [line.text for line in batch.lines] == LINES
    assert (batch.title, batch.containers, result.diagnostics) == ("Rice pots", 6, ())


@pytest.mark.parametrize(
    ("recipe_yield", "containers", "found"),
    [
        (6, 6, []),
        (6.0, 6, []),
        ("6", 6, []),
        ("6 servings", 6, []),
        ("Serves 6", 6, []),
        ("Makes&nbsp;6 pots", 6, []),
        (["6", "6 servings"], 6, []),
        (["a pot", "6 servings"], 6, []),
        ({"@type": "QuantitativeValue", "value": 6}, 6, []),
        ({"@type": "QuantitativeValue", "value": "6 pots"}, 6, []),
        ({"@type": "QuantitativeValue", "minValue": 6, "maxValue": 8}, 6, []),
        ("4-6 servings", 4, ["yield-range"]),
        ("4 to 6", 4, ["yield-range"]),
        (None, 1, ["containers-assumed"]),
        ("", 1, ["containers-assumed"]),
        ([], 1, ["containers-assumed"]),
        ("a crowd", 1, ["bad-containers"]),
        (0, 1, ["bad-containers"]),
        (-3, 1, ["bad-containers"]),
        (2.5, 1, ["bad-containers"]),
        (10**400, 1, ["bad-containers"]),
        (float("nan"), 1, ["bad-containers"]),
        (float("inf"), 1, ["bad-containers"]),
        (True, 1, ["bad-containers"]),
        ({}, 1, ["bad-containers"]),
        ([[6]], 1, ["bad-containers"]),
    ],
    ids=str,
)
def test_the_yield_is_the_number_of_containers(recipe_yield: object, containers: int, found: list[str]) -> None:
    result = read_json({**RECIPE, "recipeYield": recipe_yield})
    assert (batch_of(result).containers, codes(result)) == (containers, found)


def test_a_range_of_the_yield_is_told() -> None:
    text = '{"@type": "Recipe", "recipeYield": "4-6", "recipeIngredient": ["1 egg"]}'
    assert shown(read(text, "a.json", "au").diagnostics) == (
        "a.json:1:22: warning: '4-6' is a range; 4 containers are counted [yield-range]\n"
        f"    {text}\n"
        "                         ^^^^^^^^^^^\n"
        "  hint: give the number that you fill"
    )


def test_places_in_minified_json_and_of_equal_lines() -> None:
    text = '{"name":"2 eggs","@type":"Recipe","recipeIngredient":["2 eggs","1 fig","2 eggs","1 cr\\u00eape"]}'
    lines = batch_of(read(text, "a.json", "au")).lines
    assert [(line.span.column, text[line.span.column - 1 : line.span.end_column - 1]) for line in lines] == [
        (56, "2 eggs"),
        (65, "1 fig"),
        (73, "2 eggs"),
        (82, "1 cr\\u00eape"),
    ]
    assert lines[3].text == "1 crêpe"


def test_a_heading_among_the_ingredients_starts_a_component() -> None:
    batch = batch_of(read_json({**RECIPE, "recipeIngredient": ["1 egg", "For the sauce:", "1 fig"]}))
    assert [(c.name, len(c.lines)) for c in batch.components] == [("batch", 1), ("For the sauce", 1)]


def test_an_entry_that_is_no_text() -> None:
    text = '{"@type": "Recipe", "recipeYield": 1,\n "recipeIngredient": ["1 egg", 7, {"amount": 2}]}'
    result = read(text, "a.json", "au")
    assert [line.text for line in batch_of(result).lines] == ["1 egg"]
    assert shown(result.diagnostics).split("\n")[:4] == [
        "a.json:2:3: error: ingredient 2 is no text and is not counted [bad-ingredient]",
        '     "recipeIngredient": ["1 egg", 7, {"amount": 2}]}',
        "      ^^^^^^^^^^^^^^^^",
        '  hint: write it as a text, such as "400 g brown rice"',
    ]
    assert errors(result) == ["bad-ingredient", "bad-ingredient"]


def test_of_several_recipes_the_first_is_read() -> None:
    text = json.dumps([{"@type": "Recipe", "name": "Empty"}, RECIPE, {**RECIPE, "name": "Second"}], indent=1)
    result = read(text, "a.json", "au")
    assert batch_of(result).title == "Rice pots"
    (found,) = result.diagnostics
    assert (found.code, found.message) == ("several-recipes", "the file holds 2 recipes; only the first is read")
    assert found.hint == "save the others in files of their own: 'Second'"
    assert found.span is not None
    assert found.span.line == text[: text.index('"Second"')].count("\n") + 3


@pytest.mark.parametrize(
    ("text", "name", "message"),
    [
        (
            '{"@type": "Recipe",\n "name": }',
            "a.json",
            (
                "a.json:2:10: error: this is no JSON: expecting value [json-syntax]\n"
                '     "name": }\n'
                "             ^\n"
                "  hint: mend this place"
            ),
        ),
        (
            '{"@type": "Recipe"',
            "a.json",
            (
                "a.json:1:18: error: this is no JSON: expecting ',' delimiter [json-syntax]\n"
                '    {"@type": "Recipe"\n'
                "                     ^\n"
                "  hint: mend this place"
            ),
        ),
        (
            '{"@type": "Person"}',
            "a.json",
            (
                "a.json:1:1: error: there is no schema.org Recipe in the file [no-recipe]\n"
                "  hint: copy the ingredients into a text file, one per line"
            ),
        ),
        (
            "<html><body>400 g rice</body></html>",
            "a.html",
            (
                "a.html:1:1: error: there is no schema.org Recipe in the file [no-recipe]\n"
                "  hint: copy the ingredients into a text file, one per line"
            ),
        ),
        (
            '\n{"@type": "Recipe", "recipeIngredient": []}',
            "a.json",
            (
                "a.json:2:22: error: the recipe has no ingredients [no-ingredients]\n"
                '    {"@type": "Recipe", "recipeIngredient": []}\n'
                "                         ^^^^^^^^^^^^^^^^\n"
                "  hint: copy the ingredients into a text file, one per line"
            ),
        ),
        (
            "[" * 8 + '{"@type": "Recipe", "recipeIngredient": ["1 egg"]}' + "]" * 8,
            "a.json",
            (
                "a.json:1:1: error: no recipe stands within 6 levels of lists and objects [nested-too-deep]\n"
                "  hint: copy the ingredients into a text file, one per line"
            ),
        ),
    ],
    ids=["value", "end", "no recipe", "page", "no ingredients", "deep recipe"],
)
def test_what_holds_no_recipe(text: str, name: str, message: str) -> None:
    result = read(text, name, "au")
    assert result.batch is None
    assert shown(result.diagnostics) == message


def test_json_that_would_exhaust_the_parser_is_refused() -> None:
    (deep,) = read("[" * 100_000, "a.json", "au").diagnostics
    assert (deep.code, str(deep.span)) == ("nested-too-deep", "a.json:1:61")
    assert deep.message == "the JSON is nested more than 60 levels deep and is not read"
    assert codes(read('{"n": ' + "9" * 5000 + "}", "a.json", "au")) == ["json-syntax"]


def test_unclosed_and_strange_pages_are_read() -> None:
    text = f'<![if IE]><script type="application/ld+json">{json.dumps(RECIPE)}'
    assert [line.text for line in batch_of(read(text, "a.html", "au")).lines] == LINES
    assert read('<script type="application/ld+json"/>', "a.html", "au").batch is None


def test_a_script_in_a_comment_is_no_script() -> None:
    script = f'<script data-a="x > y" type="application/ld+json">{json.dumps(RECIPE)}</script>'
    assert read(f"<!-- {script} -->", "a.html", "au").batch is None
    assert [line.text for line in batch_of(read(f"<!-- a --><!-- {script}", "a.html", "au")).lines] == LINES
    assert read(f"<script>'<!-- {script}", "a.html", "au").batch is None


@pytest.mark.parametrize(
    ("before", "after"), [("<!--", "-->"), ("//<![CDATA[\n", "\n//]]>"), ("/*<![CDATA[*/", "/*]]>*/;"), ("\n", " ;\n")]
)
def test_wrappers_of_old_pages(before: str, after: str) -> None:
    page = f'<script type="application/ld+json">{before}{json.dumps(RECIPE)}{after}</script>'
    lines = batch_of(read(page, "a.html", "au")).lines
    assert [line.span.text[line.span.column - 1 : line.span.end_column - 1] for line in lines] == LINES


def test_brackets_within_texts_are_no_nesting() -> None:
    assert batch_of(read_json({**RECIPE, "description": '"\\[' * 500})).title == "Rice pots"


_JSON = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(), st.sampled_from(["Recipe", "1 egg"])),
    lambda inner: st.one_of(
        st.lists(inner),
        st.dictionaries(
            st.one_of(
                st.text(),
                st.sampled_from("@type @graph name recipeIngredient ingredients recipeYield mainEntity value".split()),
            ),
            inner,
        ),
        st.fixed_dictionaries({"@type": st.just("Recipe"), "recipeIngredient": inner, "name": inner}),
    ),
    max_leaves=30,
)


@given(_JSON, st.booleans(), st.sampled_from([None, 1]))
def test_no_json_raises_and_every_place_lies_inside(content: object, ascii_only: bool, indent: int | None) -> None:
    text = json.dumps(content, ensure_ascii=ascii_only, indent=indent)
    assert_inside(read(text, "a.json", "au"), text)
    page = f'<p>\n<script type="application/ld+json">\n{text}\n</script>'
    assert_inside(read(page, "a.html", "au"), page)


_PARTS = (
    '< > <script </script> <!-- --> <![CDATA[ ]]> <! <? &amp; { } [ ] " \\ : , é ; // '
    '"@type" "Recipe" "recipeIngredient" "1.egg" "recipeYield" <br> @graph'
)


@given(
    st.lists(st.sampled_from([*_PARTS.split(), " ", "\n", '<script type="application/ld+json">'])).map("".join),
    st.sampled_from(["a.html", "a.json"]),
)
def test_no_page_raises_and_every_place_lies_inside(text: str, name: str) -> None:
    assert_inside(read(text, name, "au"), text)


@given(st.lists(st.text("abc é½&<\"\\/\n'", min_size=1).filter(lambda t: t.strip(" \n") != ""), min_size=1, max_size=5))
def test_ingredients_stand_where_their_places_say(texts: list[str]) -> None:
    text = json.dumps({"@type": "Recipe", "recipeIngredient": texts}, ensure_ascii=False, indent=1)
    batch = read(text, "a.json", "au").batch
    if batch is None:
        return
    literals = [json.dumps(t, ensure_ascii=False)[1:-1] for t in texts]
    for line in batch.lines:
        assert line.span.text[line.span.column - 1 : line.span.end_column - 1] in literals
