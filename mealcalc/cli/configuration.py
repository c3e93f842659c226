"""The user's configuration: a small TOML file, and the folder in which it and the saved decisions live.

    region = "au"
    prefer_tables = ["own", "sr28"]     # food tables by name, the preferred one first

The folder is the one that the system has for the configuration of 'mealcalc'; the variable MEALCALC_CONFIG names
another folder, or a file ending in .toml.
"""

import os
import re
import tomllib
from dataclasses import dataclass
from pathlib import Path

from mealcalc.errors import ConfigurationError
from mealcalc.units import METRIC, REGIONS

VARIABLE = "MEALCALC_CONFIG"
FILE_NAME = "config.toml"
DECISIONS_NAME = "decisions.yaml"
LARGEST_FILE_BYTES = 100_000
KEYS = ("region", "prefer_tables")

_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")


@dataclass(frozen=True, slots=True)
class Configuration:
    """What the user settled for all recipes.

    region: region of recipes that name none. prefer_tables: names of food tables, the preferred one first.
    """

    region: str | None = None
    prefer_tables: tuple[str, ...] = ()


def configuration_path() -> Path:
    """The configuration file, whether it exists or not."""
    named = os.environ.get(VARIABLE)
    if named:
        path = Path(named).expanduser()
        return path if path.suffix == ".toml" else path / FILE_NAME
    from platformdirs import user_config_path

    return user_config_path("mealcalc", appauthor=False) / FILE_NAME


def user_decisions_path() -> Path:
    """The file of saved decisions that count for all recipes, in the folder of the configuration."""
    return configuration_path().with_name(DECISIONS_NAME)


def load_configuration() -> Configuration:
    """Read the configuration file; without one nothing is settled.

    Raises
    ------
    ConfigurationError
        If the file cannot be read, is no TOML or holds what it should not; names file and line.
    """
    path = configuration_path()
    try:
        with path.open("rb") as stream:
            content = stream.read(LARGEST_FILE_BYTES + 1)
    except FileNotFoundError:
        if os.environ.get(VARIABLE, "").endswith(".toml"):
            raise ConfigurationError(
                f"{path}: there is no such file, though {VARIABLE} names it", f"write the file, or unset {VARIABLE}"
            ) from None
        return Configuration()
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise ConfigurationError(f"{path}: cannot be read: {reason}", "mend the file or move it away") from error
    if len(content) > LARGEST_FILE_BYTES:
        raise ConfigurationError(f"{path}: is larger than {LARGEST_FILE_BYTES} bytes", "move it away")
    return _parse(path, content)


def _parse(path: Path, content: bytes) -> Configuration:
    try:
        text = content.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise ConfigurationError(f"{path}:{line}: is not in UTF-8", "save the file as UTF-8") from error
    try:
        table = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise _syntax_error(path, text, error) from error
    for key in table:
        if key not in KEYS:
            raise ConfigurationError(
                f"{path}:{_line_of(text, key)}: unknown entry '{key[:60]}'", f"known are: {', '.join(KEYS)}"
            )
    return Configuration(_region(path, text, table.get("region")), _tables(path, text, table.get("prefer_tables", [])))


def _region(path: Path, text: str, region: object) -> str | None:
    if region is None:
        return None
    if isinstance(region, str) and (region.lower() in REGIONS or region.lower() == METRIC):
        return region.lower()
    raise ConfigurationError(
        f"{path}:{_line_of(text, 'region')}: unknown region {region!r}", f"use one of: {', '.join(REGIONS)}"
    )


def _tables(path: Path, text: str, tables: object) -> tuple[str, ...]:
    if isinstance(tables, list) and all(isinstance(table, str) and table for table in tables):
        return tuple(tables)
    raise ConfigurationError(
        f"{path}:{_line_of(text, 'prefer_tables')}: prefer_tables is not a list of names",
        'write it like prefer_tables = ["own", "sr28"]',
    )


def _syntax_error(path: Path, text: str, error: Exception) -> ConfigurationError:
    message = str(error)
    match = _PLACE.search(message)
    line, column = text.rstrip().count("\n") + 1, ""
    if match and match[1]:
        line, column = int(match[1]), f":{match[2]}"
    reason = _PLACE.sub("", message) or "nested too deep"
    return ConfigurationError(
        f"{path}:{line}{column}: is no TOML: {reason[:1].lower()}{reason[1:]}",
        'mend the line, such as region = "au", or move the file away',
    )


def _line_of(text: str, key: str) -> int:
    for number, line in enumerate(text.split("\n"), start=1):
        if re.match(rf"\s*\[?\s*[\"']?{re.escape(key)}\b", line):
            return number
    return 1
