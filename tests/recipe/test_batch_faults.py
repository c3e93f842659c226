"""Faults of batch files: each is told with its place and a way out, and costs its own field only."""

import pytest

from tests.recipe.reading import assert_inside, batch_of, codes, errors, read, shown

RICE = """
components:
  - name: Rice
    ingredients: 400 g rice
"""
START = "region: au\ncontainers: 6"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            f"titel: Pots\n{START}{RICE}",
            (
                "pots.batch.yaml:1:1: error: unknown key 'titel' in the batch [unknown-key]\n"
                "    titel: Pots\n"
                "    ^^^^^\n"
                "  hint: did you mean 'title'?"
            ),
        ),
        (
            f"containers: 6\nregion: en{RICE}",
            (
                "pots.batch.yaml:2:9: error: unknown region 'en' [unknown-region]\n"
                "    region: en\n"
                "            ^^\n"
                "  hint: known are: au, nz, uk, ie, us, ca, in, eu (until then metric measures are used)"
            ),
        ),
        (
            f"containers: 6\nregion: England{RICE}",
            (
                "pots.batch.yaml:2:9: error: unknown region 'England' [unknown-region]\n"
                "    region: England\n"
                "            ^^^^^^^\n"
                "  hint: did you mean 'uk'? (until then metric measures are used)"
            ),
        ),
        (
            f"region: au\ncontainers: 0{RICE}",
            (
                "pots.batch.yaml:2:13: error: 0 containers cannot be filled [bad-containers]\n"
                "    containers: 0\n"
                "                ^\n"
                "  hint: write a whole number, such as containers: 6 (until then the whole batch counts as one)"
            ),
        ),
        (
            f"region: au\ncontainers: {{count: 6, volume: 650}}{RICE}",
            (
                "pots.batch.yaml:2:32: error: volume '650' has no unit [bad-volume]\n"
                "    containers: {count: 6, volume: 650}\n"
                "                                   ^^^\n"
                "  hint: write it like 650 ml"
            ),
        ),
        (
            f"{START}{RICE}    cooked_weight: 2 l\n",
            (
                "pots.batch.yaml:6:20: error: cooked weight '2 l' is not a weight: 'l' is no unit of it [bad-weight]\n"
                "        cooked_weight: 2 l\n"
                "                       ^^^\n"
                "  hint: use g, kg, oz or lb, like 2140 g"
            ),
        ),
        (
            f"{START}{RICE}    fat: keept\n",
            (
                "pots.batch.yaml:6:10: error: 'fat' cannot be 'keept' [unknown-word]\n"
                "        fat: keept\n"
                "             ^^^^^\n"
                "  hint: did you mean 'kept'?"
            ),
        ),
        (
            f"{START}{RICE}  - name: RICE\n    ingredients: 1 egg\n",
            (
                "pots.batch.yaml:6:11: error: component 'RICE' stands twice, first on line 4 [duplicate-component]\n"
                "      - name: RICE\n"
                "              ^^^^\n"
                "  hint: give each component a name of its own"
            ),
        ),
        (
            f"{START}{RICE}  - name: Sauce\n    ingredients:\n",
            (
                "pots.batch.yaml:7:5: error: component 'Sauce' has no ingredients [empty-component]\n"
                "        ingredients:\n"
                "        ^^^^^^^^^^^\n"
                "  hint: write lines of ingredients ('ingredients: |' and one per line), or remove the component"
            ),
        ),
        (
            f"{START}{RICE}title: A\ntitle: B\n",
            (
                "pots.batch.yaml:7:1: error: 'title' stands twice in the batch; the first counts [duplicate-key]\n"
                "    title: B\n"
                "    ^^^^^\n"
                "  hint: remove one of the two"
            ),
        ),
        (
            f"{START}{RICE}variants:\n  - name: leaner\n    leave_out: [beef]\n",
            (
                "pots.batch.yaml:8:17: error: no line contains 'beef' [variant-unknown-line]\n"
                "        leave_out: [beef]\n"
                "                    ^^^^\n"
                "  hint: the foods are: rice"
            ),
        ),
        (
            f"{START}{RICE}variants:\n  - name: more\n    add: {{Ricce: 1 egg}}\n",
            (
                "pots.batch.yaml:8:11: error: the batch has no component 'Ricce' [unknown-component]\n"
                "        add: {Ricce: 1 egg}\n"
                "              ^^^^^\n"
                "  hint: did you mean 'Rice'?"
            ),
        ),
        (
            f"title: !!python/object:os x\n{START}{RICE}",
            (
                "pots.batch.yaml:1:8: error: the tag '!!python/object:os' has no meaning in a batch file [yaml-tag]\n"
                "    title: !!python/object:os x\n"
                "           ^^^^^^^^^^^^^^^^^^^^\n"
                "  hint: remove the tag"
            ),
        ),
        (
            f"{START}{RICE}  - name: Sauce\n    ingredients:\n      - 1 tin: tomatoes\n      - 1 egg\n",
            (
                "pots.batch.yaml:8:9: error: a line of the ingredients of 'Sauce' is read as a mapping because it "
                "contains ': ' [wrong-type]\n"
                "          - 1 tin: tomatoes\n"
                "            ^^^^^^^^^^^^^^^\n"
                "  hint: put the line in quotes"
            ),
        ),
    ],
    ids=[
        "unknown key",
        "unknown region",
        "name of a country",
        "no containers",
        "volume",
        "weight",
        "fat",
        "component twice",
        "empty component",
        "key twice",
        "variant line",
        "variant component",
        "tag",
        "colon",
    ],
)
def test_one_fault_is_told_and_the_rest_is_read(text: str, message: str) -> None:
    result = read(text)
    assert shown(result.diagnostics) == message
    assert batch_of(result).lines[0].text == "400 g rice"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("containers: -2", "bad-containers"),
        ("containers: 2.5", "bad-containers"),
        ("containers: 100000", "bad-containers"),
        ("containers: six", "bad-containers"),
        ("containers: .nan", "bad-containers"),
        ("containers: [6]", "wrong-type"),
        ("containers:", "missing-value"),
        ("containers: {volume: 650 ml}", "missing-key"),
        ("containers: {count: 6, volume: 0 ml}", "bad-volume"),
        ("containers: {count: 6, volume: 650 g}", "bad-volume"),
        ("containers: {count: 6, volume: 650 l}", "bad-volume"),
        ("containers: {count: 6, volumes: 650 ml}", "unknown-key"),
        ("title: [a]", "wrong-type"),
        ("title:", "missing-value"),
        ("? [a]\n: b", "wrong-type"),
        ("servings: 6", "unknown-key"),
        ("variants: leaner", "wrong-type"),
        ("variants: [leaner]", "wrong-type"),
        ("variants: [{leave_out: rice}]", "missing-key"),
        ("variants: [{name: a, replace: [rice]}]", "wrong-type"),
        ("variants: [{name: a, replace: {rice: }}]", "missing-value"),
        ("variants: [{name: a, replace: {rice: 1 egg}, leave_out: rice}]", "variant-conflict"),
        ("variants: [{name: a, leave_out: rice}, {name: A, leave_out: rice}]", "duplicate-variant"),
        ("variants: [{name: a, add: {Rice: }}]", "missing-value"),
        ("variants: [{name: a, leave_out: {rice: 1}}]", "wrong-type"),
        ("variants: [{name: a, remove: rice}]", "unknown-key"),
        ("foods: pea", "wrong-type"),
        ("foods: [pea]", "wrong-type"),
    ],
)
def test_a_fault_of_the_batch_costs_its_field_only(text: str, code: str) -> None:
    result = read(f"{text}\nregion: au{RICE}")
    assert errors(result) == [code]
    assert batch_of(result).lines[0].text == "400 g rice"
    assert_inside(result, f"{text}\nregion: au{RICE}")
    assert all(d.hint and d.span for d in result.diagnostics)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("cooked_weight: 0 g", "bad-weight"),
        ("cooked_weight: -5 kg", "bad-weight"),
        ("cooked_weight: 2140", "bad-weight"),
        ("cooked_weight: heavy", "bad-weight"),
        ("cooked_weight: 2140 kg", "bad-weight"),
        ("cooked_weight: {g: 1}", "wrong-type"),
        ("cooked_weight:", "missing-value"),
        ("cooking: [fried]", "wrong-type"),
        ("fat: [kept]", "wrong-type"),
        ("weight: 2 kg", "unknown-key"),
    ],
)
def test_a_fault_of_a_component_costs_its_field_only(text: str, code: str) -> None:
    result = read(f"{START}{RICE}    {text}")
    assert errors(result) == [code]
    assert batch_of(result).components[0].fat == "kept"


@pytest.mark.parametrize(
    "text",
    ["- name: A", "- ingredients: {a: b}\n    name: A", "- ingredients: '# none'\n    name: A", "- A", "- [A]", "-"],
)
def test_a_component_without_ingredients_is_left_out(text: str) -> None:
    result = read(f"{START}{RICE}  {text}")
    assert [component.name for component in batch_of(result).components] == ["Rice"]
    assert errors(result)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("title: Pots", "missing-key"),
        ("components:", "no-ingredients"),
        ("components: []", "no-ingredients"),
        ("components: rice", "wrong-type"),
        ("components: {Rice: 400 g rice}", "wrong-type"),
        ("components: [{name: Rice}]", "empty-component"),
        ("- 400 g rice", "wrong-type"),
        ("400 g rice", "wrong-type"),
        ("# only a comment", "no-ingredients"),
        ("---\n...\n", "missing-value"),
        ("  \n", "empty-file"),
        ("ingredients: 400 g rice", "unknown-key"),
    ],
)
def test_without_a_line_there_is_no_batch(text: str, code: str) -> None:
    result = read(text)
    assert result.batch is None
    assert errors(result)[0] == code


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "title: a\ncomponents:\n\t- name: Rice\n",
            (
                "pots.batch.yaml:3:1: error: this is no YAML: found character '\\t' that cannot start any token "
                "[yaml-syntax]\n"
                "     - name: Rice\n"
                "    ^\n"
                "  hint: indent with blanks, not with tabs"
            ),
        ),
        (
            "title: Beans: smoky\n",
            (
                "pots.batch.yaml:1:13: error: this is no YAML: mapping values are not allowed here [yaml-syntax]\n"
                "    title: Beans: smoky\n"
                "                ^\n"
                "  hint: put a text that contains ': ' in quotes"
            ),
        ),
        (
            "title: 'Beans\n",
            (
                "pots.batch.yaml:1:14: error: this is no YAML: found unexpected end of stream [yaml-syntax]\n"
                "    title: 'Beans\n"
                "                 ^\n"
                "  hint: a quotation mark or a bracket is not closed"
            ),
        ),
        (
            "title: a\n---\ntitle: b\n",
            (
                "pots.batch.yaml:2:1: error: this is no YAML: a second document starts here [yaml-syntax]\n"
                "    ---\n"
                "    ^\n"
                "  hint: one file holds one batch: remove the line ---, or split the file"
            ),
        ),
        (
            "title: *a\n",
            (
                "pots.batch.yaml:1:8: error: this is no YAML: found undefined alias 'a' [yaml-syntax]\n"
                "    title: *a\n"
                "           ^\n"
                "  hint: a text that starts with * must be in quotes"
            ),
        ),
        (
            'title: "\\U0011ffff"\n',
            (
                "pots.batch.yaml:1:11: error: this is no YAML: chr() arg not in range(0x110000) [yaml-syntax]\n"
                '    title: "\\U0011ffff"\n'
                "              ^\n"
                "  hint: mend this line"
            ),
        ),
        (
            f"title: {'[' * 40}\n",
            (
                "pots.batch.yaml:1:27: error: the file is nested more than 20 levels deep [yaml-limit]\n"
                f"    title: {'[' * 40}\n"
                f"    {' ' * 26}^\n"
                "  hint: a batch file needs no such thing: write it out plainly"
            ),
        ),
    ],
    ids=["tab", "colon", "quote", "documents", "alias", "escape", "nesting"],
)
def test_what_is_no_yaml_is_one_error_with_a_caret(text: str, message: str) -> None:
    result = read(text)
    assert result.batch is None
    assert shown(result.diagnostics) == message


def test_aliases_are_bounded() -> None:
    laughs = "a0: &a0 [x]\n" + "".join(f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 9))
    result = read(laughs)
    assert codes(result) == ["yaml-limit"]
    assert "more than 20 aliases" in result.diagnostics[0].message


def test_a_node_within_itself_ends() -> None:
    assert read("components: &a [*a]").batch is None
    assert read("components: [&a {name: A, ingredients: *a}]").batch is None


def test_words_of_a_variant_that_mean_several_lines() -> None:
    text = f"{START}\ncomponents:\n- name: A\n  ingredients: |\n    1 onion, diced\n    1 tsp onion powder\n"
    result = read(text + "variants:\n- name: plain\n  leave_out: [onions]\n")
    assert shown(result.diagnostics) == (
        "pots.batch.yaml:10:15: error: 'onions' means 2 lines [variant-several-lines]\n"
        "      leave_out: [onions]\n"
        "                  ^^^^^^\n"
        "  hint: use more words of the one that is meant: line 6: 1 onion, diced | line 7: 1 tsp onion powder"
    )


def test_terminal_controls_in_escapes_do_not_survive() -> None:
    batch = batch_of(read(f'title: "a\\e[31mb\\ud800c"\n{START}{RICE}'))
    assert batch.title == "a [31mb c"
