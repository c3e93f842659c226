"""The published shape of a batch file: a JSON Schema by which editors complete and check it while the cook types.

In an editor with a YAML language server, name the file that `mealcalc` ships on the first line of a batch:
`# yaml-language-server: $schema=<path of batch.schema.json>`.
"""

import json
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

SCHEMA_NAME = "batch.schema.json"


def schema_path() -> Path:
    """Where the schema file of this installation stands."""
    return Path(str(resources.files("mealcalc.reference").joinpath(SCHEMA_NAME)))


@cache
def batch_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a batch file in YAML."""
    schema: dict[str, Any] = json.loads(
        resources.files("mealcalc.reference").joinpath(SCHEMA_NAME).read_text(encoding="utf-8")
    )
    return schema
