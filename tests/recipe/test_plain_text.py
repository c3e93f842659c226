"""Recipes as plain text."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.recipe.reading import assert_inside, batch_of, codes, errors, places, read, shown

LENTILS = """\
# an invented recipe
title: Lentil pots   # for the freezer
Region: UK
containers: 4

300 g red lentils
  1 l vegetable stock # from cubes

Topping:
2 tbsp olive oil
1 tsp each cumin and coriander
"""


def test_a_full_recipe() -> None:
    result = read(LENTILS, "lentils.txt")
    batch = batch_of(result)
    assert result.diagnostics == ()
    assert result.region_ground == "stated in the file, line 3"
    assert (batch.title, batch.region, batch.containers, batch.file) == ("Lentil pots", "uk", 4, "lentils.txt")
    assert [(c.name, str(c.span)) for c in batch.components] == [
        ("batch", "lentils.txt:6:1"),
        ("Topping", "lentils.txt:9:1"),
    ]
    assert places(batch.components[0].lines) == [(6, 1, "300 g red lentils"), (7, 3, "1 l vegetable stock")]
    assert places(batch.components[1].lines)[0] == (10, 1, "2 tbsp olive oil")
    assert [line.text for line in batch.components[1].lines] == ["2 tbsp olive oil", "1 tsp cumin", "1 tsp coriander"]
    assert {line.component for line in batch.components[1].lines} == {"Topping"}


def test_a_bare_list_gets_notes_only() -> None:
    result = read("400 g rice\n2 eggs\n", "rice-pots.txt")
    batch = batch_of(result)
    assert (batch.title, batch.region, batch.containers) == ("rice pots", "metric", 1)
    assert shown(result.diagnostics) == (
        "rice-pots.txt:1:1: note: no region is given: metric cups and spoons are used (250, 15 and 5 ml) "
        "[region-assumed]\n"
        "  hint: give one: au nz uk ie us ca in eu\n"
        "rice-pots.txt:1:1: note: no number of containers is given: the whole batch counts as one "
        "[containers-assumed]\n"
        "  hint: give it, such as containers: 6"
    )


@pytest.mark.parametrize(
    ("line", "text"),
    [
        ("400 g rice # long grain", "400 g rice"),
        ("400 g rice #2", "400 g rice #2"),
        ("1 #10 can tomatoes", "1 #10 can tomatoes"),
        ("2 # beef mince # lean", "2 # beef mince"),
        ("½ # butter", "½ # butter"),
        ("vitamin#5 drink", "vitamin#5 drink"),
        ("\t400 g rice\t#\u00a0", "400 g rice"),
    ],
)
def test_comments(line: str, text: str) -> None:
    assert [found.text for found in batch_of(read(line, "a.txt")).lines] == [text]


def test_head_lines_count_before_the_first_ingredient_only() -> None:
    batch = batch_of(read("1 egg\ntitle: Omelette\n", "eggs.txt"))
    assert batch.title == "eggs"
    assert [line.span.line for line in batch.lines] == [1, 2]


def test_every_part_under_a_heading() -> None:
    batch = batch_of(read("Base:\n1 egg\nFor the sauce :\n1 fig", "a.txt"))
    assert [(c.name, len(c.lines)) for c in batch.components] == [("Base", 1), ("For the sauce", 1)]


def test_headings_twice_empty_and_with_an_amount() -> None:
    result = read("region: au\ncontainers: 1\nSauce:\n1 egg\nEmpty:\nsauce:\n1 fig\n2 tins beans:\nsalt\n", "a.txt")
    assert [(c.name, len(c.lines)) for c in batch_of(result).components] == [("Sauce", 2), ("2 tins beans", 1)]
    assert shown(result.diagnostics) == (
        "a.txt:6:1: warning: the heading 'sauce' stands twice, first on line 3; the lines under both are one component "
        "[duplicate-component]\n"
        "    sauce:\n"
        "    ^^^^^^\n"
        "  hint: give each component a name of its own\n"
        "a.txt:8:1: warning: this line ends in ':', so it is a heading and its amount is not counted "
        "[heading-with-amount]\n"
        "    2 tins beans:\n"
        "    ^^^^^^^^^^^^^\n"
        "  hint: remove the colon if it is an ingredient\n"
        "a.txt:5:1: warning: no ingredient stands under the heading 'Empty' [empty-component]\n"
        "    Empty:\n"
        "    ^^^^^^\n"
        "  hint: a line that ends in ':' starts a component; remove the colon if it is an ingredient"
    )


@pytest.mark.parametrize(
    ("head", "message"),
    [
        (
            "region: uk\ncontainers: six",
            (
                "a.txt:2:13: error: 'six' is not a number of containers [bad-containers]\n"
                "    containers: six\n"
                "                ^^^\n"
                "  hint: write a whole number, such as containers: 6 (until then the whole batch counts as one)"
            ),
        ),
        (
            "containers: 2\nregion: atlantis",
            (
                "a.txt:2:9: error: unknown region 'atlantis' [unknown-region]\n"
                "    region: atlantis\n"
                "            ^^^^^^^^\n"
                "  hint: known are: au, nz, uk, ie, us, ca, in, eu (until then metric measures are used)"
            ),
        ),
        (
            "region: uk\ncontainers: 2\nregion: us",
            (
                "a.txt:3:1: error: 'region' stands twice; the first counts [duplicate-key]\n"
                "    region: us\n"
                "    ^^^^^^^^^^\n"
                "  hint: remove one of the two"
            ),
        ),
        (
            "region: uk\ncontainers: 2\ntitle:",
            (
                "a.txt:3:1: error: 'title' has no value [missing-value]\n"
                "    title:\n"
                "    ^^^^^^\n"
                "  hint: write it after the colon, or remove the line"
            ),
        ),
    ],
    ids=["containers", "region", "twice", "no value"],
)
def test_faults_of_the_head(head: str, message: str) -> None:
    result = read(f"{head}\n1 egg\n", "a.txt")
    assert shown(result.diagnostics) == message
    assert [line.text for line in batch_of(result).lines] == ["1 egg"]


@pytest.mark.parametrize("text", ["# nothing\n", "title: Nothing\n", "Sauce:\n", "Sauce:\n# none"])
def test_without_a_line_there_is_no_batch(text: str) -> None:
    result = read(text, "a.txt")
    assert result.batch is None
    assert errors(result) == ["no-ingredients"]


def test_an_empty_text() -> None:
    assert codes(read("\n \n", "a.txt")) == ["empty-file"]


@given(st.lists(st.one_of(st.text(), st.sampled_from(["Sauce:", "1 egg", "#", "region: uk", ":", "containers: 5"]))))
def test_no_text_raises_and_every_place_lies_inside(rows: list[str]) -> None:
    text = "\n".join(rows)
    assert_inside(read(text, "a.txt"), text)
