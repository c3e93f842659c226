"""The foods of USDA SR28's ASCII release as a table: composition, names, refuse, factors and every household measure.

`sr28` reads the lines; here they become foods. A figure of the abbreviated table is a mean over sources, with no word
on how each came to be, so its status is 'published'. Tried on the publisher's files of SR28 (ABBREV, FOOD_DES, WEIGHT,
FD_GROUP).
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from pathlib import Path

from data_loaders.interface import FOODS_IN_CHUNK, Chunk, TableMetadata, source_file
from data_loaders.readers.sr28 import FILES, AbbreviatedRow, DescriptionRow, Release, read_release
from mealcalc.diagnostics import Diagnostic
from mealcalc.fooddb.bundled import split_names
from mealcalc.fooddb.writer import FoodRow, MeasureRow
from mealcalc.values import ValueStatus


class Sr28Reader:
    """Reads the release from a folder that holds FD_GROUP, FOOD_DES, ABBREV and WEIGHT, plain or `.gz`.

    Parameters
    ----------
    folder : Path
        Of the release.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    @cached_property
    def metadata(self) -> TableMetadata:
        """What is said of the release, with the checksums of its four files."""
        plain = [self._folder / name for name in FILES]
        paths = [path if path.is_file() else path.with_name(f"{path.name}.gz") for path in plain]
        return TableMetadata(
            table="sr28",
            edition="SR28, September 2015, revised May 2016",
            title="USDA National Nutrient Database for Standard Reference, Release 28",
            publisher="U.S. Department of Agriculture, Agricultural Research Service, Nutrient Data Laboratory",
            licence="public domain (work of the United States government); the publisher asks to be named",
            address="",
            files=tuple(source_file(path) for path in paths),
        )

    @cached_property
    def _read(self) -> tuple[Release, tuple[Diagnostic, ...]]:
        return read_release(self._folder)

    @property
    def diagnostics(self) -> Sequence[Diagnostic]:
        """Every line that could not be read, every duplicate, every code that one file has and another lacks."""
        return self._read[1]

    def groups(self) -> Iterable[tuple[str, str]]:
        """The food groups of FD_GROUP."""
        return [(row.code, row.description) for row in self._read[0].groups]

    def chunks(self) -> Iterator[Chunk]:
        """The foods that both FOOD_DES and ABBREV hold, in the order of ABBREV."""
        release = self._read[0]
        described = {row.code: row for row in release.descriptions}
        measures: dict[str, list[MeasureRow]] = defaultdict(list)
        for row in sorted(release.weights, key=lambda row: (row.code, row.sequence)):
            measures[row.code].append(
                MeasureRow(row.amount, row.description, row.mass_g, row.data_points, row.standard_deviation_g)
            )
        both = [row for row in release.abbreviated if row.code in described]
        for start in range(0, len(both), FOODS_IN_CHUNK):
            rows = both[start : start + FOODS_IN_CHUNK]
            yield Chunk([_food(row, described[row.code], measures.get(row.code, ())) for row in rows])


def _food(row: AbbreviatedRow, about: DescriptionRow, measures: Sequence[MeasureRow]) -> FoodRow:
    return FoodRow(
        code=row.code,
        group_code=about.group_code,
        description=about.long_description,
        values=[(key, amount, ValueStatus.PUBLISHED) for key, amount in row.amounts.items() if amount is not None],
        measures=measures,
        names=split_names(about.common_names),
        scientific_name=about.scientific_name,
        manufacturer=about.manufacturer,
        refuse_percent=about.refuse_percent,
        refuse_description=about.refuse_description,
        nitrogen_factor=about.nitrogen_factor,
        protein_kcal_per_g=about.protein_kcal_per_g,
        fat_kcal_per_g=about.fat_kcal_per_g,
        carbohydrate_kcal_per_g=about.carbohydrate_kcal_per_g,
    )
