"""Foods that are batches of their own: a stock, a spice mix or a sauce cooked in one file and used in another.

    foods:
      - name: chicken stock
        names: [stock]
        batch: stock.batch.yaml     # beside this file
        density: 1.01 g/ml          # to use it by volume; optional
        scoop: 60 g

The file itself is read where the batch is calculated (`pipeline`), since it has to be calculated, too.
"""

from collections.abc import Mapping
from pathlib import PurePosixPath, PureWindowsPath

from mealcalc.recipe.food_fields import MEASURE_KEYS, FoodNames, food_code, read_density, read_measures, volume_measure
from mealcalc.recipe.yaml_nodes import Field, NodeReader
from mealcalc.records import SubBatch

BATCH_KEY = "batch"
SUB_BATCH_KEYS = ("name", "names", BATCH_KEY, "density", *MEASURE_KEYS)

LONGEST_PATH = 500
"""Characters of a path beyond which it is a mistake."""


def read_sub_batch(reader: NodeReader, fields: Mapping[str, Field], names: FoodNames, number: int) -> SubBatch | None:
    """The entry of a food that is a batch of its own; None, with an error, if its path cannot be one.

    Parameters
    ----------
    reader : NodeReader
        Collects diagnostics.
    fields : mapping
        Fields of the entry; figures of a label beside 'batch' are errors.
    names : FoodNames
        Names of the food.
    number : int
        Number of the entry, from 1.
    """
    for key, (key_node, _) in fields.items():
        if key not in SUB_BATCH_KEYS:
            reader.error(
                "batch-and-label",
                f"'{names.name[:60]}' is a batch of its own: '{key}' is calculated from it and not read",
                reader.span(key_node),
                f"remove '{key}', or remove 'batch' if the figures of a label are to count",
            )
    path = reader.text(fields[BATCH_KEY][1], "'batch'", "the file of a batch, such as stock.batch.yaml")
    density = read_density(reader, fields)
    measures = read_measures(reader, fields)
    if path is None:
        return None
    if PurePosixPath(path.text).is_absolute() or PureWindowsPath(path.text).drive or len(path.text) > LONGEST_PATH:
        reader.error(
            "bad-sub-batch",
            f"the batch '{path.text[:60]}' is not named from the folder of this file",
            path.span,
            "keep it beside this file and write its name, such as batch: stock.batch.yaml",
        )
        return None
    if density is not None:
        measures.append(volume_measure(density))
    return SubBatch(
        name=names.name,
        names=names.others,
        code=food_code(names.name, number),
        path=path.text,
        measures=tuple(measures),
        span=path.span,
    )
