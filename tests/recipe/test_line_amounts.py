"""Amounts as cooks write them -> amount, second measure, container, name."""

import pytest

from tests.recipe.lines import read, shown

NUMBERS = [
    ("1 1/2 cups flour", "1.5 cup"),
    ("1½ cups flour", "1.5 cup"),
    ("1-1/2 cups flour", "1.5 cup"),
    ("1 and 1/2 cups flour", "1.5 cup"),
    ("1½cups flour", "1.5 cup"),
    ("⅔ cup stock", "0.666667 cup"),
    ("1⁄4 tsp salt", "0.25 tsp"),
    ("2.5 dl cream", "2.5 dl"),
    ("2,5 dl cream", "2.5 dl"),
    ("0,125 l milk", "0.125 l"),
    (".5 cup milk", "0.5 cup"),
    ("2/3rds cup milk", "0.666667 cup"),
    ("1,500 g potatoes", "1500 g"),
    ("one onion", "1 piece"),
    ("two cups stock", "2 cup"),
    ("half a lemon", "0.5 piece"),
    ("one and a half cups rice", "1.5 cup"),
    ("three quarters of a cup of oats", "0.75 cup"),
    ("a quarter cup of oil", "0.25 cup"),
    ("a dozen eggs", "12 piece"),
    ("half a dozen eggs", "6 piece"),
    ("2 dozen eggs", "24 piece"),
    ("a couple of carrots", "2 piece"),
    ("1-2 tbsp oil", "1..2 tbsp"),
    ("1 – 2 carrots", "1..2 piece"),
    ("1 to 2 tsp chilli flakes", "1..2 tsp"),
    ("2 or 3 carrots", "2..3 piece"),
    ("between 1 and 2 cups water", "1..2 cup"),
    ("1 to 1 1/2 cups water", "1..1.5 cup"),
    ("¾–1 cup stock", "0.75..1 cup"),
    ("100-150 g cheddar", "100..150 g"),
    ("100g - 150g cheddar", "100..150 g"),
    ("3- to 4-pound chicken", "3..4 lb"),
    ("about 2 cups stock", "2 cup"),
    ("up to 8 cups stock", "8 cup"),
    ("scant 8 ounces bacon", "8 oz"),
]


@pytest.mark.parametrize(("text", "amount"), NUMBERS)
def test_numbers_in_every_way_they_are_written(text: str, amount: str) -> None:
    assert shown(read(text).amount) == amount


UNITS = [
    ("2 T butter", "2 tbsp", "butter"),
    ("2 t butter", "2 tsp", "butter"),
    ("1/2 c. raisins", "0.5 cup", "raisins"),
    ("500gm broccoli florets", "500 g", "broccoli florets"),
    ("250 gms paneer", "250 g", "paneer"),
    ("8 fl. oz. milk", "8 fl_oz", "milk"),
    ("1# ground beef", "1 lb", "ground beef"),
    ("1.5L water", "1.5 l", "water"),
    ("2 heaped tbsp flour", "2 tbsp", "flour"),
    ("2 US cups water", "2 cup", "water"),
    ("6 rashers back bacon", "6 slice", "back bacon"),
    ("2 strips bacon", "2 slice", "bacon"),
    ("2 sticks celery", "2 stalk", "celery"),
    ("2 celery ribs", "2 stalk", "celery"),
    ("1 rib celery", "1 stalk", "celery"),
    ("2 sticks butter", "2 stick", "butter"),
    ("1 cinnamon stick", "1 piece", "cinnamon stick"),
    ("1 stick cinnamon", "1 piece", "cinnamon stick"),
    ("3 garlic cloves", "3 clove", "garlic"),
    ("2 large cloves of garlic", "2 clove", "garlic"),
    ("4 whole cloves", "4 piece", "whole cloves"),
    ("1 head of garlic", "1 head", "garlic"),
    ("1 bulb garlic", "1 bulb", "garlic"),
    ("1 fennel bulb", "1 bulb", "fennel bulb"),
    ("2 bay leaves", "2 leaf", "bay leaves"),
    ("3 sprigs fresh thyme", "3 sprig", "fresh thyme"),
    ("4 sheets filo", "4 sheet", "filo"),
    ("2 vegetable stock cubes", "2 cube", "vegetable stock cubes"),
    ("2 scoops whey protein", "2 scoop", "whey protein"),
    ("2 cobs corn", "2 ear", "corn"),
    ("2 corn on the cob", "2 ear", "corn"),
    ("1 tin chickpeas", "1 can", "chickpeas"),
    ("1 packet taco seasoning", "1 pack", "taco seasoning"),
    ("1 punnet cherry tomatoes", "1 pack", "cherry tomatoes"),
    ("1 bottle passata", "1 jar", "passata"),
    ("1 sachet dried yeast", "1 sachet", "dried yeast"),
    ("1 loaf sourdough", "1 loaf", "sourdough"),
    ("1 knob of butter", "1 knob", "butter"),
    ("1 knob of ginger", "1 piece", "ginger"),
    ("1 thumb-sized piece of ginger", "1 piece", "ginger"),
    ("2 cm piece ginger", "2 cm", "ginger"),
    ("1-inch piece fresh ginger", "2.54 cm", "fresh ginger"),
    ('1" ginger', "2.54 cm", "ginger"),
    ("4 salmon fillets", "4 piece", "salmon fillets"),
    ("1 leg of lamb", "1 piece", "leg of lamb"),
    ("2 racks pork spareribs", "2 rack", "pork spareribs"),
    ("1 rack of lamb", "1 rack", "lamb rack"),
    ("a sleeve of crackers", "1 sleeve", "crackers"),
    ("1 bottle gourd", "1 piece", "bottle gourd"),
    ("4 nos. green chillies", "4 piece", "green chillies"),
    ("2 gills of milk", "2 gill", "milk"),
]


@pytest.mark.parametrize(("text", "amount", "name"), UNITS)
def test_units_and_the_food_after_them(text: str, amount: str, name: str) -> None:
    line = read(text)
    assert (shown(line.amount), line.name) == (amount, name)


PACKS = [
    ("2 x 400 g cans black beans", "800 g", "can", "-", "black beans"),
    ("2 × 400g tins black beans", "800 g", "can", "-", "black beans"),
    ("2 400g tins black beans", "800 g", "can", "-", "black beans"),
    ("1 (15 oz) can black beans", "15 oz", "can", "-", "black beans"),
    ("2 (14.5-ounce) cans diced tomatoes", "29 oz", "can", "-", "diced tomatoes"),
    ("One 15-ounce can chickpeas", "15 oz", "can", "-", "chickpeas"),
    ("a 400g can of chickpeas", "400 g", "can", "-", "chickpeas"),
    ("1 - 15 oz can chickpeas", "15 oz", "can", "-", "chickpeas"),
    ("400g tin chickpeas x 2", "800 g", "can", "-", "chickpeas"),
    ("400g can four bean mix", "400 g", "can", "-", "four bean mix"),
    ("1½ x 400 g tins coconut milk", "600 g", "can", "-", "coconut milk"),
    ("440 g pack hokkien noodles", "440 g", "pack", "-", "hokkien noodles"),
    ("1 can (540 mL) kidney beans", "1 can", "", "540 ml", "kidney beans"),
    ("2 cans (14.5 oz each) corn", "2 can", "", "29 oz", "corn"),
    ("2 cans (14.5 oz) corn", "2 can", "", "29 oz", "corn"),
    ("2 tins x 400g tomatoes", "2 can", "", "800 g", "tomatoes"),
    ("1 can chickpeas, drained weight 240g", "1 can", "", "240 g", "chickpeas"),
    ("400g/14oz can chopped tomatoes", "400 g", "can", "-", "chopped tomatoes"),
    ("1 pkg. (10 oz) frozen spinach", "1 pack", "", "10 oz", "frozen spinach"),
    ("1 No. 10 can tomatoes", "1 can", "", "3236 ml", "tomatoes"),
    ("4 6-ounce pieces salmon", "24 oz", "", "-", "salmon"),
    ("2 x 120g salmon fillets", "240 g", "", "-", "salmon fillets"),
    ("1 3-pound chicken", "3 lb", "", "-", "chicken"),
    ("1 whole 3- to 4-pound chicken", "3..4 lb", "", "-", "chicken"),
    ("500 g piece of beef brisket", "500 g", "", "-", "beef brisket"),
    ("1 (12-ounce) bunch kale", "1 bunch", "", "12 oz", "kale"),
]


@pytest.mark.parametrize(("text", "amount", "container", "measured", "name"), PACKS)
def test_packs_are_multiplied_out_or_counted(text: str, amount: str, container: str, measured: str, name: str) -> None:
    line = read(text)
    assert (shown(line.amount), line.container) == (amount, container)
    assert (shown(line.measured), line.name) == (measured, name)


MEASURED = [
    ("1 lb / 450 g beef mince", "1 lb", "-"),
    ("450g/1lb beef mince", "450 g", "-"),
    ("1/2 cup / 118 milliliters water", "0.5 cup", "118 ml"),
    ("3 cups/600 grams sugar", "3 cup", "600 g"),
    ("1 cup (240 ml/8 fl oz) milk", "1 cup", "240 ml"),
    ("3/4 cup (90 grams) whole-wheat flour", "0.75 cup", "90 g"),
    ("1 aubergine (about 450 g)", "1 piece", "450 g"),
    ("1 large (about 2 lb) butternut squash", "1 piece", "2 lb"),
    ("4 baking potatoes (about 250 g each)", "4 piece", "1000 g"),
    ("2 chicken breasts, about 6 oz each", "2 piece", "12 oz"),
    ("2 racks pork spareribs (about 5 lb total)", "2 rack", "5 lb"),
    ("1 medium eggplant, about 1 1/4 pounds", "1 piece", "1.25 lb"),
    ("4 snappers, 3/4 to 1 pound each, cleaned", "4 piece", "3..4 lb"),
    ("1 rotisserie chicken, meat shredded (about 4 cups)", "1 piece", "4 cup"),
    ("1 (2 inch) piece ginger", "1 piece", "5.08 cm"),
    ("400 g can chickpeas (240 g drained)", "400 g", "240 g"),
    ("2 cups bread crumbs (from 5 slices of bread)", "2 cup", "-"),
    ("1 clove garlic (more to taste)", "1 clove", "-"),
    ("8 cups canned tomatoes, about 4 cans (28 ounces each)", "8 cup", "-"),
    ("3 ounces gruyère, grated (1/2 cup)", "3 oz", "-"),
]


@pytest.mark.parametrize(("text", "amount", "measured"), MEASURED)
def test_second_measures_overrule_what_says_less_about_grams(text: str, amount: str, measured: str) -> None:
    line = read(text)
    assert (shown(line.amount), shown(line.measured)) == (amount, measured)


SUMS = [
    ("1 cup plus 2 tablespoons flour", "us", "18 tbsp"),
    ("1 cup plus 2 tablespoons flour", "au", "14.5 tbsp"),  # 250 ml and 20 ml
    ("1 tbsp + 1 tsp salt", "us", "4 tsp"),
    ("1 tbsp + 1 tsp salt", "au", "5 tsp"),
    ("1 lb 2 oz chicken", "uk", "18 oz"),
    ("1 pound, 2 ounces salmon", "us", "18 oz"),
    ("1/2 cup, plus 2 tablespoons, cold water", "us", "10 tbsp"),
    ("1/2 stick unsalted butter, plus 2 tablespoons", "us", "6 tbsp"),
    ("3 to 4 cups plus 2 tablespoons oil", "us", "50..66 tbsp"),
]


@pytest.mark.parametrize(("text", "region", "amount"), SUMS)
def test_sums_are_given_in_the_smaller_unit_of_the_region(text: str, region: str, amount: str) -> None:
    assert shown(read(text, region).amount) == amount


IMPLIED = [
    ("a good glug of olive oil", "1 glug~"),
    ("a splash of milk", "1 splash~"),
    ("drizzle of honey", "1 drizzle~"),
    ("a few sprigs of thyme", "3 sprig~"),
    ("curry leaves - a few", "3 leaf~"),
    ("several grinds of black pepper", "4 pinch~"),
    ("2 glugs olive oil", "2 glug"),
    ("a pinch of salt", "1 pinch"),
    ("pinch of saffron threads", "1 pinch"),
    ("1 handful basil leaves", "1 handful"),
    ("handful of parsley", "1 handful"),
    ("sprig of thyme", "1 sprig"),
    ("small bunch coriander", "1 bunch"),
    ("a lemon", "1 piece"),
]


@pytest.mark.parametrize(("text", "amount"), IMPLIED)
def test_gestures_and_vague_numbers_are_implied_and_articles_are_not(text: str, amount: str) -> None:
    assert shown(read(text).amount) == amount


AFTER = [
    ("Chicken breast 500g", "500 g", "Chicken breast"),
    ("Butter - 100 g", "100 g", "Butter"),
    ("Flour: 2 cups", "2 cup", "Flour"),
    ("Eggs x 3", "3 piece", "Eggs"),
    ("Eggs 3", "3 piece", "Eggs"),
    ("Onion-2", "2 piece", "Onion"),
    ("Onions (2)", "2 piece", "Onions"),
    ("Onions - 2 medium, chopped", "2 piece", "Onions"),
    ("Green chillies 3-4", "3..4 piece", "Green chillies"),
    ("Turmeric - a pinch", "1 pinch", "Turmeric"),
    ("Ginger 1 inch", "2.54 cm", "Ginger"),
    ("To serve: 4 naan breads", "4 piece", "naan breads"),
    ("Optional: 1 tbsp honey", "1 tbsp", "honey"),
    ("juice of 1 lemon", "1 piece", "lemon juice"),
    ("juice of half a lemon", "0.5 piece", "lemon juice"),
    ("finely grated zest of 1 lemon", "1 piece", "lemon zest"),
    ("1 lime, juice only", "1 piece", "lime juice"),
    ("leaves from 6 sprigs thyme", "6 sprig", "thyme"),
    ("kernels from 3 ears of corn", "3 ear", "corn kernels"),
]


@pytest.mark.parametrize(("text", "amount", "name"), AFTER)
def test_amounts_after_the_food_or_after_its_part(text: str, amount: str, name: str) -> None:
    line = read(text)
    assert (shown(line.amount), line.name) == (amount, name)


NOT_AMOUNTS = [
    ("80/20 ground beef", "-", "ground beef"),
    ("5-spice powder", "-", "5-spice powder"),
    ("four bean mix", "-", "four bean mix"),
    ("00 flour", "-", "00 flour"),
    ("500 g 00 flour", "500 g", "00 flour"),
    ("1 tsp 7-spice", "1 tsp", "7-spice"),
    ("1 cup half-and-half", "1 cup", "half-and-half"),
    ("half and half", "-", "half and half"),
    ("8 (8-inch) flour tortillas", "8 piece", "flour tortillas"),
    ("600 g chuck steak, cut into 3 cm cubes", "600 g", "chuck steak"),
    ("2 cups kabuli chana, soaked 8 hrs", "2 cup", "kabuli chana"),
    ("1 lb 93% lean ground beef", "1 lb", "ground beef"),
    ("60 g 85% dark chocolate", "60 g", "dark chocolate"),
    ("250 g brinjal, cut into 4 wedges", "250 g", "brinjal"),
]


@pytest.mark.parametrize(("text", "amount", "name"), NOT_AMOUNTS)
def test_numbers_that_are_no_amounts(text: str, amount: str, name: str) -> None:
    line = read(text)
    assert (shown(line.amount), line.name) == (amount, name)


SIZES = [
    ("3 large eggs", "large", "eggs"),
    ("2 extra large eggs", "extra large", "eggs"),
    ("2 eggs, extra-large", "extra large", "eggs"),
    ("1 medium-sized onion", "medium", "onion"),
    ("3 med. carrots", "medium", "carrots"),
    ("1 small head cabbage", "small", "cabbage"),
    ("1 large or 2 small onions", "large", "onions"),
    ("4 9-inch flour tortillas", "9 inch", "flour tortillas"),
    ("2 20-cm wraps", "20 cm", "wraps"),
    ("1 partially baked 9-inch tart shell", "9 inch", "partially baked tart shell"),
    ("2 little gem lettuces", "", "little gem lettuces"),
    ("1 cup small curd cottage cheese", "", "small curd cottage cheese"),
]


@pytest.mark.parametrize(("text", "size", "name"), SIZES)
def test_sizes(text: str, size: str, name: str) -> None:
    line = read(text)
    assert (line.size, line.name) == (size, name)


MARKS = [
    "- 2 eggs",
    "* 2 eggs",
    "• 2 eggs",
    "•2 eggs",
    "1. 2 eggs",
    "2) 2 eggs",
    "[ ] 2 eggs",
    "☐ 2 eggs",
    "– 2 eggs",
    "\t2 eggs",
]


@pytest.mark.parametrize("text", MARKS)
def test_list_marks_are_no_part_of_the_line(text: str) -> None:
    line = read(text)
    assert (shown(line.amount), line.name, line.diagnostics) == ("2 piece", "eggs", ())


@pytest.mark.parametrize(
    ("text", "packs"),
    [
        ("2 x 400 g cans black beans", 2.0),
        ("1 (15 oz) can black beans", 1.0),
        ("2-3 x 400 g tins tomatoes", 2.5),
        ("400 g can chickpeas", None),
        ("2 cans chickpeas", None),
        ("400 g carrots", None),
    ],
)
def test_the_number_of_packs_is_kept(text: str, packs: float | None) -> None:
    assert read(text).packs == packs
