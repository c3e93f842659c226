"""Yields of grains, pasta, pulses, eggs, cuts of meat and a few others from reviewed pairs of SR28, raw and cooked.

    python -m data_loaders.derive_pair_yields [FOLDER]              print the rows
    python -m data_loaders.derive_pair_yields [FOLDER] --check      compare with the shipped yield table
    python -m data_loaders.derive_pair_yields [FOLDER] --update     put them into the shipped yield table

FOLDER holds the SR28 files; without it the table that the package ships is read. The pairs are listed one by one, since
descriptions alone do not tell which records belong together. Vegetables are in only where protein and dry matter give
the same yield within 3 percent. How the figures are calculated, and the limits of that: `tracer_yields`.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from data_loaders.tracer_yields import PublishedFood, dry_matter_tracer, protein_tracer, run, yield_row

ABSORBED = "the source says cooked; the tracer holds for water that is taken up, none poured off"
SOLIDS_LOST = "solids lost to the cooking water make this too high"


@dataclass(frozen=True, slots=True)
class Pair:
    """A raw and a cooked food of SR28 that belong together, and how its row in the yield table reads.

    by_fat_level: the row holds for meat about as fat as the raw one only; back bacon fries unlike streaky.
    """

    raw: str
    cooked: str
    food_group: str
    food: str
    method: str
    form: str = ""
    by_fat_level: bool = False


GRAINS = (
    Pair("20044", "20045", "rice", "white rice", "absorbed", "long grain"),
    Pair("20046", "20047", "rice", "white rice", "absorbed", "long grain, parboiled"),
    Pair("20050", "20051", "rice", "white rice", "absorbed", "medium grain"),
    Pair("20052", "20053", "rice", "white rice", "absorbed", "short grain"),
    Pair("20054", "20055", "rice", "white rice", "absorbed", "glutinous"),
    Pair("20036", "20037", "rice", "brown rice", "absorbed", "long grain"),
    Pair("20040", "20041", "rice", "brown rice", "absorbed", "medium grain"),
    Pair("20088", "20089", "rice", "wild rice", "absorbed"),
    Pair("20001", "20002", "cereal_grain", "amaranth", "absorbed"),
    Pair("20005", "20006", "cereal_grain", "barley", "absorbed", "pearled"),
    Pair("20009", "20010", "cereal_grain", "buckwheat groats", "absorbed", "roasted"),
    Pair("20012", "20013", "cereal_grain", "bulgur", "absorbed"),
    Pair("20031", "20032", "cereal_grain", "millet", "absorbed"),
    Pair("20035", "20137", "cereal_grain", "quinoa", "absorbed"),
    Pair("20140", "20141", "cereal_grain", "spelt", "absorbed"),
    Pair("20142", "20143", "cereal_grain", "teff", "absorbed"),
    Pair("08120", "08121", "breakfast_cereal", "rolled oats", "absorbed", "porridge"),
    Pair("08090", "08091", "breakfast_cereal", "corn grits", "absorbed", "porridge"),
    Pair("20033", "20034", "breakfast_cereal", "oat bran", "absorbed", "porridge"),
)
PASTA = (
    Pair("20120", "20121", "pasta", "pasta", "boiled_drained"),
    Pair("20124", "20125", "pasta", "wholemeal pasta", "boiled_drained"),
    Pair("20091", "20092", "pasta", "gluten-free pasta", "boiled_drained", "corn"),
    Pair("20109", "20110", "pasta", "egg noodles", "boiled_drained"),
    Pair("20114", "20115", "pasta", "soba noodles", "boiled_drained"),
    Pair("20116", "20117", "pasta", "somen noodles", "boiled_drained"),
    Pair("20133", "20134", "pasta", "rice noodles", "boiled_drained"),
)
PULSES = (
    Pair("16001", "16002", "pulse", "adzuki beans", "boiled"),
    Pair("16014", "16015", "pulse", "black beans", "boiled"),
    Pair("16019", "16020", "pulse", "borlotti beans", "boiled"),
    Pair("16024", "16025", "pulse", "great northern beans", "boiled"),
    Pair("16032", "16033", "pulse", "red kidney beans", "boiled"),
    Pair("16037", "16038", "pulse", "navy beans", "boiled"),
    Pair("16040", "16041", "pulse", "pink beans", "boiled"),
    Pair("16042", "16043", "pulse", "pinto beans", "boiled"),
    Pair("16049", "16050", "pulse", "white beans", "boiled"),
    Pair("16052", "16053", "pulse", "broad beans", "boiled"),
    Pair("16056", "16057", "pulse", "chickpeas", "boiled"),
    Pair("16062", "16063", "pulse", "black-eyed peas", "boiled"),
    Pair("16069", "16070", "pulse", "lentils", "boiled"),
    Pair("16071", "16072", "pulse", "lima beans", "boiled", "large"),
    Pair("16074", "16075", "pulse", "lima beans", "boiled", "baby"),
    Pair("16076", "16077", "pulse", "lupins", "boiled"),
    Pair("16080", "16081", "pulse", "mung beans", "boiled"),
    Pair("16083", "16084", "pulse", "urad beans", "boiled"),
    Pair("16085", "16086", "pulse", "split peas", "boiled"),
    Pair("16101", "16102", "pulse", "pigeon peas", "boiled"),
    Pair("16108", "16109", "pulse", "soya beans", "boiled"),
)
BAKED_OR_FRIED_VEGETABLES = (
    Pair("11352", "11674", "potato", "potatoes", "baked", "in skin, skin eaten"),
    Pair("11482", "11483", "root_vegetable", "acorn squash", "baked", "flesh"),
    Pair("11260", "11263", "other_vegetable", "white mushrooms", "stir_fried", "without fat"),
)
FLESH_AND_EGGS = (
    Pair("05062", "05064", "chicken", "chicken breast", "roasted", "meat only"),
    Pair("05062", "05065", "chicken", "chicken breast", "stewed", "meat only"),
    Pair("05062", "05746", "chicken", "chicken breast", "braised", "skinless boneless"),
    Pair("05062", "05747", "chicken", "chicken breast", "grilled_broiled", "skinless boneless"),
    Pair("05096", "05098", "chicken", "chicken thigh", "roasted", "meat only"),
    Pair("05096", "05099", "chicken", "chicken thigh", "stewed", "meat only"),
    Pair("15076", "15209", "fish", "Atlantic salmon", "dry_heat", "wild"),
    Pair("15015", "15016", "fish", "Atlantic cod", "dry_heat"),
    Pair("01123", "01129", "egg", "whole egg", "boiled", "hard-boiled"),
    Pair("01123", "01131", "egg", "whole egg", "poached"),
    Pair("01123", "01128", "egg", "whole egg", "pan_fried", "fried"),
)
CUTS = (
    Pair("17230", "17231", "lamb", "lamb leg", "roasted", "whole, lean and fat"),
    Pair("17236", "17237", "lamb", "lamb loin", "grilled_broiled", "lean and fat"),
    Pair("17236", "17238", "lamb", "lamb loin", "roasted", "lean and fat"),
    Pair("17239", "17240", "lamb", "lamb rib", "grilled_broiled", "lean and fat"),
    Pair("17239", "17241", "lamb", "lamb rib", "roasted", "lean and fat"),
    Pair("17242", "17243", "lamb", "lamb shoulder", "braised", "whole, lean and fat"),
    Pair("17242", "17244", "lamb", "lamb shoulder", "grilled_broiled", "whole, lean and fat"),
    Pair("17242", "17245", "lamb", "lamb shoulder", "roasted", "whole, lean and fat"),
    Pair("17228", "17229", "lamb", "lamb shank", "braised", "lean and fat"),
    Pair("17059", "17060", "lamb", "lamb", "braised", "cubed for stew, lean"),
    Pair("17059", "17061", "lamb", "lamb", "grilled_broiled", "cubed, lean"),
    Pair("17168", "17169", "lamb", "goat", "roasted"),
    Pair("17094", "17095", "veal", "veal leg", "braised", "lean and fat"),
    Pair("17094", "17098", "veal", "veal leg", "roasted", "lean and fat"),
    Pair("17116", "17117", "veal", "veal shoulder", "braised", "lean and fat"),
    Pair("17116", "17118", "veal", "veal shoulder", "roasted", "lean and fat"),
    Pair("10070", "10071", "pork", "pork shoulder", "roasted", "whole, lean and fat"),
    Pair("10080", "10081", "pork", "pork shoulder", "braised", "blade, lean and fat"),
    Pair("10080", "10082", "pork", "pork shoulder", "grilled_broiled", "blade, lean and fat"),
    Pair("10088", "10089", "pork", "pork spareribs", "braised", "lean and fat"),
    Pair("10088", "10940", "pork", "pork spareribs", "roasted", "lean and fat"),
    Pair("10036", "10037", "pork", "pork chops", "braised", "loin, lean and fat"),
    Pair("10036", "10038", "pork", "pork chops", "grilled_broiled", "loin, lean and fat"),
    Pair("10036", "10179", "pork", "pork chops", "pan_fried", "loin, lean and fat"),
    Pair("10020", "10023", "pork", "pork loin", "roasted", "whole, lean and fat"),
    Pair("10008", "10009", "pork", "pork leg", "roasted", "whole, lean and fat"),
    Pair("10123", "10862", "cured_pork", "bacon", "pan_fried", "streaky", by_fat_level=True),
    Pair("10123", "10860", "cured_pork", "bacon", "baked", "streaky", by_fat_level=True),
    Pair("10123", "10861", "cured_pork", "bacon", "microwaved", "streaky", by_fat_level=True),
    Pair("13931", "13933", "beef", "beef steak", "pan_fried", "top sirloin, lean and fat"),
    Pair("13325", "13326", "liver", "beef liver", "braised"),
    Pair("13325", "13327", "liver", "beef liver", "pan_fried"),
    Pair("05027", "05661", "liver", "chicken liver", "pan_fried"),
    Pair("05071", "05671", "chicken", "chicken drumstick", "braised", "meat only"),
    Pair("05071", "05073", "chicken", "chicken drumstick", "roasted", "meat only"),
    Pair("05066", "05069", "chicken", "chicken drumstick", "roasted", "meat and skin"),
    Pair("05100", "05103", "chicken", "chicken wing", "roasted", "meat and skin"),
    Pair("05139", "05140", "poultry", "duck", "roasted", "meat and skin", by_fat_level=True),
    Pair("17177", "17178", "game", "rabbit", "roasted"),
    Pair("17177", "17179", "game", "rabbit", "stewed"),
)
"""Cuts, game and offal for which no measured yield is at hand; the fat that runs out of them comes along."""

ALL_PAIRS = (*GRAINS, *PASTA, *PULSES, *BAKED_OR_FRIED_VEGETABLES, *FLESH_AND_EGGS, *CUTS)


def pair_rows(foods: Mapping[str, PublishedFood]) -> list[dict[str, str]]:
    """The rows of the yield table, by dry matter for what takes up or loses water only, by protein for flesh, eggs."""
    rows = []
    for pair in ALL_PAIRS:
        raw, cooked = foods[pair.raw], foods[pair.cooked]
        tracer = protein_tracer if pair in (*FLESH_AND_EGGS, *CUTS) else dry_matter_tracer
        dry = pair in GRAINS or pair in PASTA or pair in PULSES
        drained = pair in PASTA or pair in PULSES
        cells = {
            "food_group": pair.food_group,
            "food": pair.food,
            "cut_or_form": pair.form,
            "fat_level_percent": f"{raw.fat_g:g}" if pair.by_fat_level else "",
            "method": pair.method,
            "state_before": "dry" if dry else "raw",
            "state_after": "drained" if drained else "cooked",
            "basis": "dry" if dry else "edible_raw",
            "note": ABSORBED if pair in GRAINS else SOLIDS_LOST if drained else "",
        }
        rows.append(yield_row(raw, cooked, tracer(raw, cooked), cells))
    return rows


def main(arguments: Sequence[str] | None = None) -> int:
    """Run from the command line; see `tracer_yields.run` for what it returns."""
    return run(__doc__.split("\n")[0], pair_rows, arguments)


if __name__ == "__main__":
    raise SystemExit(main())
