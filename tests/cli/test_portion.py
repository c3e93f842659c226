"""`mealcalc portion` through the real command, and `macros --as-cooked`."""

import csv
import io
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.command import Answer, mealcalc, write
from tests.planning.portions import TEXT


@pytest.fixture
def pots(kitchen: Path) -> Path:
    return write(kitchen, "stew.batch.yaml", TEXT)


def portion(*arguments: str | Path, status: int = 0) -> Answer:
    answer = mealcalc("portion", *arguments)
    assert answer.status == status, answer.err
    return answer


def journal(pots: Path) -> str:
    return pots.with_name("stew.cooked.yaml").read_text(encoding="utf-8")


def test_grams_sum_to_the_pot(pots: Path) -> None:
    shape = portion(pots, "--weighed", "Stew=1001 g", "--residue", "stew=17", "--json").json
    for component in shape["components"]:
        in_containers = sum(container["grams"][component["name"]] for container in shape["containers"])
        assert in_containers + component["residue_g"] + component["leftover_g"] == component["pot_g"]
    stew = shape["components"][1]
    assert (stew["pot_g"], stew["residue_g"], stew["measured"]) == (1001, 17, True)
    assert [c["grams"]["Stew"] for c in shape["containers"]] == [328, 328, 328]
    assert shape["components"][0]["measured"] is False
    assert shape["containers"][0]["figures"]["PROCNT_G"] > 30


def test_pots_are_saved_once_and_used_by_name(pots: Path) -> None:
    answer = portion("--save-pot", "big pot=980 g")
    assert answer.out == ""
    assert "saved the pot 'big pot', 980 g empty" in answer.err
    shape = portion(
        pots, "--weighed", "Stew=2030 gross", "--pot", "Big pot", "--container-volume", "2 l", "--json"
    ).json
    assert shape["components"][1]["pot_g"] == 1050
    assert shape["components"][1]["tare_g"] == 980
    answer = portion(
        pots, "--save-pot", "big pot=1 kg", "--weighed", "Stew=2030 gross in big pot", "--container-volume", "2 l"
    )
    assert "(it was 980 g)" in answer.err
    assert "weighed: 2030 g with the pot, less 1000 g (big pot)" in " ".join(answer.out.split())


def test_what_the_table_says(pots: Path) -> None:
    out = portion(pots, "--eater", "adult=1.5", "--eater", "child=0.5x1", status=1).out
    assert "3 containers of 700 ml, measures of region uk" in out
    assert "1-2 adult" in out or "1 adult" in out
    assert "3 child" in out
    assert "10 g more or less of" in out
    assert "cooked_weight of the file" in out
    assert "left free" in out


def test_csv_has_a_row_for_each_container_and_component(pots: Path) -> None:
    rows = list(csv.DictReader(io.StringIO(portion(pots, "--csv").out)))
    assert list(rows[0]) == ["container", "eater", "component", "mass_g"]
    assert sum(int(row["mass_g"]) for row in rows if row["component"] == "Stew") == 1000
    assert len(rows) == 6


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["--weighed", "Stew=900 gross", "--tare", "980 g"], "900 g with the pot, and the tare is 980 g"),
        (["--weighed", "Stew=900 gross"], "no empty weight is given"),
        (["--weighed", "Stew=900 gross", "--pot", "lost"], "no pot 'lost' is saved"),
        (["--pot", "lost"], "a pot is named, and no weight with it"),
        (["--weighed", "Stew=900 gross", "--pot", "a", "--tare", "1 g"], "both say what the pot weighs"),
        (["--shares", "60%, 60%"], "the shares are 120 % of the batch"),
        (["--shares", "60, 40"], "is no share above 0"),
        (["--shares", "60%, 40%", "--eater", "a=1"], "--shares says all of each container"),
        (["--shares", "60%, 40%", "--containers", "2"], "--shares says all of each container"),
        (["--fill", "Stew=400"], "3 containers of 400 g need 1200 g, and there are 1000 g"),
        (["--residue", "Stew=1 kg", "--residue", "Stew=1 g"], "--residue is given twice"),
        (["--residue", "Stew=1001 g"], "1001 g stay in the pan"),
        (["--eater", "a=1x4"], "cannot be divided among the eaters"),
        (["--weighed", "Stew=0 g"], "not above zero"),
        (["--container-volume", "big"], "--container-volume 'big'"),
        (["--height", "1 cm"], "a container 1 cm high"),
        (["--date", "soon"], "'soon' is no date"),
        (["--date", "2099-01-01"], "lies ahead"),
        (["--as-cooked"], "no cooking is recorded"),
        (["--as-cooked", "--weighed", "Stew=900"], "--as-cooked shows what was recorded"),
        (["--temperature", "reheating=75 C"], "no cooking is recorded"),
        (["--sheet", "sheet.pdf"], ".html or .txt"),
        (["--save-pot", "big pot"], "is not NAME=WEIGHT"),
        (["--json", "--csv"], "exclude each other"),
    ],
)
def test_what_cannot_be_done_is_refused_with_a_way_out_and_nothing_written(
    pots: Path, arguments: list[str], message: str
) -> None:
    answer = portion(
        pots, *arguments, *([] if {"--as-cooked", "--temperature"} & set(arguments) else ["--record"]), status=2
    )
    assert message in answer.err
    assert answer.out == ""
    assert sorted(path.name for path in pots.parent.iterdir()) == ["stew.batch.yaml"]


def test_without_file_or_pot_it_says_what_is_missing(kitchen: Path) -> None:  # noqa: ARG001
    assert "Missing argument 'FILE'" in portion(status=2).err
    assert "no journal beside it" in mealcalc("portion", "-", "--record", given="1 kg rice\n").err


def test_containers_too_small_are_an_error_with_all_figures_printed(pots: Path) -> None:
    answer = portion(pots, "--container-volume", "300 ml", status=1)
    assert "container 1-3: " in answer.err
    assert "do not go in [container-too-small]" in answer.err
    assert "too small" in answer.out
    assert "in one container" in answer.out
    assert portion(pots, "--container-volume", "2 l").err == ""


def test_a_date_long_past_is_told(pots: Path) -> None:
    answer = portion(pots, "--container-volume", "2 l", "--record", "--date", "2001-05-05")
    assert "more than a year ago [old-date]" in answer.err
    assert "date: 2001-05-05" in journal(pots)


def test_a_day_that_lies_ahead_is_not_recorded(pots: Path) -> None:
    tomorrow = (datetime.now().astimezone() + timedelta(days=1)).date()
    assert "lies ahead" in portion(pots, "--record", "--date", str(tomorrow), status=2).err


def test_sheets_are_written_and_never_over_another_file(pots: Path) -> None:
    html, text = pots.with_name("sheet.html"), pots.with_name("sheet.txt")
    portion(pots, "--container-volume", "2 l", "--sheet", html)
    portion(pots, "--container-volume", "2 l", "--sheet", text)
    page = html.read_text(encoding="utf-8")
    assert page.startswith("<!DOCTYPE html>")
    assert "Rice and stew: weigh-out" in page
    assert text.read_text(encoding="utf-8").count("[ ]") == 3
    assert "is there already" in portion(pots, "--sheet", html, status=2).err
    html.write_text("mine", encoding="utf-8")
    portion(pots, "--sheet", html, status=2)
    assert html.read_text(encoding="utf-8") == "mine"
    portion(pots, "--container-volume", "2 l", "--sheet", html, "--overwrite")
    assert html.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_a_cooking_is_recorded_and_macros_rest_on_it(pots: Path) -> None:
    planned = mealcalc("macros", pots, "--json").json
    portion(
        pots, "--weighed", "Stew=1100 g", "--weighed", "Rice=800 g", "--residue", "Stew=100 g", "--containers", "4",
        "--container-volume", "2 l", "--record", "--date", "2025-01-20", "--temperature", "cooking stew=76 C",
    )  # fmt: skip
    portion(pots, "--temperature", "cooling=20 C after 1 h 50 min")
    assert journal(pots).count("date: 2025-01-20") == 2
    assert "{step: cooling, temperature: 20 C, after: 110 min}" in journal(pots)
    cooked = mealcalc("macros", pots, "--json", "--as-cooked").json
    assert cooked["containers"] == 4
    assert cooked["batch"] == "Rice and stew, as cooked on 2025-01-20"
    stew, rice = cooked["components"][1], cooked["components"][0]
    assert (stew["cooked_mass_g"], rice["cooked_mass_g"]) == (1000.0, 800.0)
    assert stew["cooked_mass_ground"] == "weighed: 1100 g, of which 100 g did not go into containers"
    for key in ("PROCNT_G", "FAT_G"):
        expected = planned["components"][1]["per_container"][key] * 3 / 4 * 10 / 11
        assert stew["per_container"][key] == pytest.approx(expected, rel=1e-4)
        assert cooked["per_container"][key] == pytest.approx(
            stew["per_container"][key] + rice["per_container"][key], rel=1e-4
        )
    of_containers = portion(pots, "--as-cooked", "2025-01-20", "--container-volume", "2 l", "--json").json
    mean = sum(c["figures"]["PROCNT_G"] for c in of_containers["containers"]) / 4
    assert mean == pytest.approx(cooked["per_container"]["PROCNT_G"], rel=1e-4)


def test_as_cooked_refuses_what_was_not_recorded(pots: Path) -> None:
    assert "no cooking is recorded" in mealcalc("macros", pots, "--as-cooked").err
    portion(pots, "--record", "--date", "2025-01-20", "--container-volume", "2 l")
    answer = mealcalc("macros", pots, "--as-cooked", "2025-01-21")
    assert answer.status == 2
    assert "recorded are: 2025-01-20" in answer.err
    assert "leave out --containers" in mealcalc("macros", pots, "--as-cooked", "--containers", "3").err
    answer = mealcalc("macros", "--as-cooked", pots)
    assert answer.status == 2
    assert "FILE goes before --as-cooked" in answer.err
    assert "no journal" in mealcalc("macros", "-", "--as-cooked", given="1 kg rice\n").err


def test_a_damaged_journal_stops_the_answer_and_stays(pots: Path) -> None:
    path = write(pots.parent, "stew.cooked.yaml", "cooked:\n  - date: soon\n")
    for arguments in (["--as-cooked"], ["--record"]):
        answer = mealcalc("portion", pots, *arguments)
        assert answer.status == 1
        assert "stew.cooked.yaml:2: 'soon' is no date" in answer.err
    assert path.read_text(encoding="utf-8") == "cooked:\n  - date: soon\n"


def test_a_recipe_changed_since_is_told(pots: Path) -> None:
    portion(pots, "--record", "--container-volume", "2 l")
    pots.write_text(TEXT.replace("500 g beef", "550 g beef"), encoding="utf-8")
    assert "have changed since [recipe-changed]" in mealcalc("macros", pots, "--as-cooked").err


def test_markup_in_names_is_shown_as_text(kitchen: Path) -> None:
    text = TEXT.replace("name: Rice", "name: <script>alert(1)</script> & rice").replace("Rice and", "<b>Rice</b> and")
    path = write(kitchen, "markup.batch.yaml", text)
    sheet = kitchen / "sheet.html"
    portion(path, "--container-volume", "2 l", "--sheet", sheet, "--eater", "<i>adult</i>=1")
    page = sheet.read_text(encoding="utf-8")
    assert "<script>" not in page
    assert "<b>" not in page
    assert "<i>" not in page
    assert "&lt;script&gt;alert(1)&lt;/script&gt; &amp; rice" in page
    assert "http" not in page  # self-contained


def test_the_file_names_its_eaters(kitchen: Path) -> None:
    path = write(kitchen, "eaters.batch.yaml", TEXT + "eaters:\n  adult: 1.5\n  child: {share: 0.5, containers: 2}\n")
    shape = portion(path, "--container-volume", "2 l", "--json").json
    assert [c["eater"] for c in shape["containers"]] == ["adult", "child", "child"]
    assert [c["grams"]["Stew"] for c in shape["containers"]] == [600, 200, 200]
    shape = portion(path, "--container-volume", "2 l", "--json", "--eater", "guest=1").json
    assert {c["eater"] for c in shape["containers"]} == {"guest"}


def test_what_is_published_can_rest_on_the_real_pot(pots: Path, tmp_path: Path) -> None:
    """1100 g of stew, 100 g of it stays in the pan: four containers of 250 g of stew and 200 g of rice."""
    portion(
        pots, "--weighed", "Stew=1100 g", "--weighed", "Rice=800 g", "--residue", "Stew=100 g", "--containers", "4",
        "--container-volume", "2 l", "--record", "--date", "2025-01-20",
    )  # fmt: skip
    cooked = mealcalc("macros", pots, "--json", "--as-cooked").json["per_container"]
    panel = mealcalc("panel", pots, "--json", "--as-cooked").json
    assert "450" in str(panel)
    planned = mealcalc("panel", pots, "--json").json
    assert panel != planned
    explained = mealcalc("explain", pots, "--of", "protein", "--json", "--as-cooked")
    assert explained.status == 0
    assert f"{cooked['PROCNT_G']:.2f} g" in mealcalc("explain", pots, "--of", "protein", "--as-cooked").out
    answer = mealcalc("publish", pots, "--out", tmp_path / "out", "--as-cooked")
    assert answer.status == 0, answer.err
    assert "as cooked" not in (tmp_path / "out" / "post.txt").read_text(encoding="utf-8")
