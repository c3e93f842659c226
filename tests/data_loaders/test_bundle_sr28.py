"""The script that makes the shipped table: same input, same bytes; nothing lost, nothing written on damage."""

import csv
import hashlib
import io
import tomllib
import zipfile
import zlib
from importlib import resources
from pathlib import Path

import pytest

from data_loaders import bundle_sr28
from data_loaders.readers.sr28 import FILES, read_release
from mealcalc.errors import InputFileError
from mealcalc.fooddb.shipped import BUNDLE_FILE, BUNDLE_SHA256, SOURCES_FILE, SOURCES_KEY

EXCERPT = Path(__file__).parent.parent / "data" / "sr28_excerpt"


def shipped(name: str) -> bytes:
    return resources.files("mealcalc.reference").joinpath(name).read_bytes()


def members(bundle: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(bundle)) as archive:
        assert archive.testzip() is None
        return {name: archive.read(name) for name in archive.namelist()}


def test_the_shipped_file_is_the_one_on_record() -> None:
    entry = tomllib.loads(shipped(SOURCES_FILE).decode())[SOURCES_KEY]
    bundle = shipped(BUNDLE_FILE)
    assert hashlib.sha256(bundle).hexdigest() == entry["sha256"] == BUNDLE_SHA256
    assert {name: hashlib.sha256(data).hexdigest() for name, data in members(bundle).items()} == entry[
        "contents_sha256"
    ]
    assert {key: entry[key] for key in bundle_sr28.SOURCE} == bundle_sr28.SOURCE
    assert len(bundle) < 1_500_000


def test_the_shipped_file_comes_from_the_published_ones(reference_data: Path) -> None:
    bundle, entry = bundle_sr28.build(reference_data / "data" / "sr28")
    assert members(bundle) == members(shipped(BUNDLE_FILE))
    if "ng" not in zlib.ZLIB_RUNTIME_VERSION:  # another deflate library packs the same contents into other bytes
        assert bundle == shipped(BUNDLE_FILE)
        sources = shipped(SOURCES_FILE).decode()
        assert bundle_sr28.merge_entry(sources, entry) == sources


def test_same_input_same_bytes_whatever_the_order_of_lines(tmp_path: Path) -> None:
    first, _ = bundle_sr28.build(EXCERPT)
    for name in FILES:
        lines = (EXCERPT / name).read_bytes().splitlines(keepends=True)
        (tmp_path / name).write_bytes(b"".join(reversed(lines)))
    second, _ = bundle_sr28.build(tmp_path)
    assert first == second


def test_nothing_is_lost_on_the_way_into_the_bundle() -> None:
    release, _ = read_release(EXCERPT)
    contents = members(bundle_sr28.build(EXCERPT)[0])
    foods = {row["code"]: row for row in csv.DictReader(io.StringIO(contents["foods.csv"].decode()))}
    assert list(foods) == sorted(foods)
    assert set(foods) == {row.code for row in release.descriptions}
    for row in release.abbreviated:
        cells = foods[row.code]
        assert {k: None if cells[k] == "" else float(cells[k]) for k in row.amounts} == row.amounts
        weights = [(cells[f"weight_{i}_g"], cells[f"weight_{i}_description"]) for i in (1, 2)]
        assert [(float(g) if g else None, text) for g, text in weights] == list(row.measures)
    for description in release.descriptions:
        cells = foods[description.code]
        assert cells["description"] == description.long_description
        assert cells["scientific_name"] == description.scientific_name
        assert cells["in_survey"] == ("Y" if description.in_survey else "")
    measures = list(csv.DictReader(io.StringIO(contents["measures.csv"].decode())))
    assert [(m["code"], int(m["sequence"]), float(m["mass_g"])) for m in measures] == sorted(
        (w.code, w.sequence, w.mass_g) for w in release.weights
    )


def test_blank_stays_blank_and_zero_stays_zero() -> None:
    contents = members(bundle_sr28.build(EXCERPT)[0])
    vanilla = next(row for row in csv.DictReader(io.StringIO(contents["foods.csv"].decode())) if row["code"] == "02050")
    assert (vanilla["CHOLN_MG"], vanilla["FIBTG_G"], vanilla["WATER_G"]) == ("", "0", "52.58")


def test_a_damaged_line_stops_everything(tmp_path: Path) -> None:
    for name in FILES:
        (tmp_path / name).write_bytes((EXCERPT / name).read_bytes().replace(b"^89.11^", b"^wet^"))
    with pytest.raises(InputFileError, match=r"ABBREV\.txt:\d+:22: error: 'wet' is not a number"):
        bundle_sr28.build(tmp_path)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("", "ENTRY\n"),
        ('[other]\na = 1\n\n[zz]\nb = "x"\n', '[other]\na = 1\n\n[zz]\nb = "x"\n\nENTRY\n'),
        (f"[{SOURCES_KEY}]\nold = 1\n[{SOURCES_KEY}.inputs_sha256]\nold = 2\n", "ENTRY\n"),
        (f"[aa]\n\n[{SOURCES_KEY}]\nold = 1\n[{SOURCES_KEY}.x]\n\n[zz]\nb = 2\n", "[aa]\n\nENTRY\n\n[zz]\nb = 2\n"),
    ],
)
def test_the_entry_of_sources_takes_its_place_and_leaves_the_others(before: str, after: str) -> None:
    entry = f"[{SOURCES_KEY}]\nnew = 1\n[{SOURCES_KEY}.contents_sha256]\n"
    merged = bundle_sr28.merge_entry(before, entry)
    assert merged == after.replace("ENTRY\n", entry)
    assert bundle_sr28.merge_entry(merged, entry) == merged


def test_command_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bundle_sr28, "REFERENCE_FOLDER", tmp_path)
    said: list[str] = []
    assert bundle_sr28.main([str(EXCERPT), "--check"], said.append) == 1
    assert not list(tmp_path.iterdir())
    assert bundle_sr28.main([str(EXCERPT)], said.append) == 0
    assert bundle_sr28.main([str(EXCERPT), "--check"], said.append) == 0
    assert said[0] == "the shipped table or its entry differs\n"
    assert said[-1] == "the shipped table is what the release gives\n"
    assert bundle_sr28.main([str(tmp_path)], said.append) == 1
    assert said[-1].startswith(f"{tmp_path / 'FD_GROUP.txt'} is missing\n  hint: ")
