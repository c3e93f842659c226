"""The configuration file of the user."""

from pathlib import Path

import platformdirs
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mealcalc.cli.configuration import (
    VARIABLE,
    Configuration,
    configuration_path,
    load_configuration,
    user_decisions_path,
)
from mealcalc.errors import ConfigurationError


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(VARIABLE, str(tmp_path))
    return tmp_path


def test_a_full_file(folder: Path) -> None:
    (folder / "config.toml").write_text('# mine\r\nregion = "AU"\r\nprefer_tables = ["own", "sr28"]\r\n')
    assert load_configuration() == Configuration("au", ("own", "sr28"))


@pytest.mark.parametrize("content", [b"", b"# nothing\n", b"\xef\xbb\xbf"])
def test_an_empty_file_settles_nothing(folder: Path, content: bytes) -> None:
    (folder / "config.toml").write_bytes(content)
    assert load_configuration() == Configuration(None, ())


def test_without_a_file_nothing_is_settled(folder: Path) -> None:
    assert load_configuration() == Configuration(None, ())
    assert user_decisions_path() == folder / "decisions.yaml"


def test_the_folder_of_the_system(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(VARIABLE, raising=False)
    expected = Path(platformdirs.user_config_dir("mealcalc", appauthor=False))
    assert configuration_path() == expected / "config.toml"
    assert user_decisions_path() == expected / "decisions.yaml"


def test_the_variable_may_name_a_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "kitchen.toml"
    monkeypatch.setenv(VARIABLE, str(path))
    assert user_decisions_path() == tmp_path / "decisions.yaml"
    with pytest.raises(ConfigurationError) as caught:
        load_configuration()
    assert caught.value.message == f"{path}: there is no such file, though MEALCALC_CONFIG names it"
    path.write_text('region = "uk"')
    assert load_configuration().region == "uk"


@pytest.mark.parametrize(
    ("content", "message", "hint"),
    [
        (b'\nregion = "xy"\n', "2: unknown region 'xy'", "use one of: au, nz, uk, ie, us, ca, in, eu"),
        (b"region = 5\n", "1: unknown region 5", "use one of: au, nz, uk, ie, us, ca, in, eu"),
        (b'\n\nregoin = "au"\n', "3: unknown entry 'regoin'", "known are: region, prefer_tables"),
        (b"[region]\n", "1: unknown region {}", "use one of: au, nz, uk, ie, us, ca, in, eu"),
        (
            b'prefer_tables = "sr28"\n',
            "1: prefer_tables is not a list of names",
            'write it like prefer_tables = ["own", "sr28"]',
        ),
        (
            b'\nprefer_tables = ["sr28", 5]\n',
            "2: prefer_tables is not a list of names",
            'write it like prefer_tables = ["own", "sr28"]',
        ),
        (b'region = "au"\n# \xe9\n', "2: is not in UTF-8", "save the file as UTF-8"),
    ],
)
def test_a_broken_file_names_line_and_way_out(folder: Path, content: bytes, message: str, hint: str) -> None:
    path = folder / "config.toml"
    path.write_bytes(content)
    with pytest.raises(ConfigurationError) as caught:
        load_configuration()
    assert caught.value.message == f"{path}:{message}"
    assert caught.value.hint == hint


@pytest.mark.parametrize(
    ("content", "place"),
    [(b'region = "au"\nregion = "uk"\n', "2:14"), (b"\nregion = au\n", "2:10"), (b'\nregion = """au\n\n', "2")],
)
def test_what_is_no_toml(folder: Path, content: bytes, place: str) -> None:
    path = folder / "config.toml"
    path.write_bytes(content)
    with pytest.raises(ConfigurationError) as caught:
        load_configuration()
    assert caught.value.message.startswith(f"{path}:{place}: is no TOML: ")
    assert caught.value.hint == 'mend the line, such as region = "au", or move the file away'


def test_files_that_cannot_be_read(folder: Path) -> None:
    (folder / "config.toml").mkdir()
    with pytest.raises(ConfigurationError, match="cannot be read"):
        load_configuration()


@pytest.mark.parametrize("content", [b"a = " + b"[" * 50_000, b"#" * 200_000], ids=["nested", "large"])
def test_hostile_files_are_refused(folder: Path, content: bytes) -> None:
    (folder / "config.toml").write_bytes(content)
    with pytest.raises(ConfigurationError):
        load_configuration()


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.one_of(st.binary(max_size=60), st.text(max_size=60).map(str.encode)))
def test_any_bytes_raise_nothing_but_a_configuration_error(folder: Path, content: bytes) -> None:
    (folder / "config.toml").write_bytes(content)
    try:
        found = load_configuration()
    except ConfigurationError as error:
        hint = error.hint
    else:
        hint = repr(found)
    assert hint
