"""The food phrase, its preparation, second names, alternatives, state, fat, words and flags."""

import pytest

from mealcalc.records import FoodState, LineKind
from tests.recipe.lines import read

NAMES = [
    ("400 g skinless chicken breast, diced", "skinless chicken breast", "diced"),
    ("3 lb boneless, skinless chicken breasts", "boneless skinless chicken breasts", ""),
    ("6 rashers smoked back bacon, trimmed of fat", "smoked back bacon", "trimmed of fat"),
    ("4 cups low-sodium chicken broth", "low-sodium chicken broth", ""),
    ("2 tsp finely chopped garlic", "garlic", "finely chopped"),
    ("1 tbsp freshly ground black pepper", "black pepper", "freshly ground"),
    ("1 cup peeled and finely chopped onion", "onion", "peeled and finely chopped"),
    ("500 g finely minced beef", "minced beef", ""),
    ("400 g chopped tomatoes", "chopped tomatoes", ""),
    ("1 cucumber peeled, seeded and sliced", "cucumber", "peeled, seeded and sliced"),
    ("2 onions - chopped", "onions", "chopped"),
    ("4 tbsp capers drained", "capers", "drained"),
    ("185 g tin tuna in oil", "tuna in oil", ""),
    ("1 carrot in thin strips", "carrot", "in thin strips"),
    ("50 g butter, plus extra for greasing", "butter", "plus extra for greasing"),
    ("2 tbsp oil for frying", "oil", ""),
    ("1 tsp bicarbonate of soda", "bicarbonate of soda", ""),
    ("1 lb beef, ground", "ground beef", ""),
    ("2 onions, red", "red onions", ""),
    ("2 tbsp oil, olive", "olive oil", ""),
    ("200 g ladies' fingers", "ladies' fingers", ""),
    ("1 CUP BROWN LENTILS", "BROWN LENTILS", ""),
    ("3 eggs 🥚", "eggs", ""),
    ("1 tablespoon olive oil, plus more\\nfor drizzling\\n", "olive oil", "plus more for drizzling"),
]


@pytest.mark.parametrize(("text", "name", "preparation"), NAMES)
def test_names_and_preparation(text: str, name: str, preparation: str) -> None:
    line = read(text)
    assert (line.name, line.preparation) == (name, preparation)


ASIDES = [
    ("4 tbsp yoghourt (dahi), beaten", "yoghourt", "dahi"),
    ("1 kg mutton (goat), curry cut", "mutton", "goat"),
    ("2 courgettes (zucchini), sliced", "courgettes", "zucchini"),
    ("1/2 tsp haldi (turmeric powder)", "haldi", "turmeric powder"),
    ("1 cup jaggery (gur) powder", "jaggery powder", "gur"),
    ("250 g cooked beetroot (not in vinegar)", "cooked beetroot", ""),
    ("1 aubergine (about 450 g)", "aubergine", ""),
    ("1 onion (optional)", "onion", ""),
    ("2 cups milk (see note)", "milk", ""),
]


@pytest.mark.parametrize(("text", "name", "aside"), ASIDES)
def test_second_names_are_kept_and_remarks_are_not(text: str, name: str, aside: str) -> None:
    line = read(text)
    assert (line.name, line.aside) == (name, aside)


ALTERNATIVES = [
    ("2 tbsp olive or rapeseed oil", "olive oil", ("rapeseed oil",)),
    ("3/4 cup basmati or jasmine rice", "basmati rice", ("jasmine rice",)),
    ("2 tbsp butter or margarine", "butter", ("margarine",)),
    ("1 cup chicken or vegetable stock", "chicken stock", ("vegetable stock",)),
    ("1 cup water or vegetable stock", "water", ("vegetable stock",)),
    ("1 tbsp red or white wine vinegar", "red wine vinegar", ("white wine vinegar",)),
    ("1 cup fresh or frozen blueberries", "fresh blueberries", ("frozen blueberries",)),
    ("1 cup red wine, stock, or water", "red wine", ("stock", "water")),
    ("3 tbsp corn, peanut or vegetable oil", "corn oil", ("peanut oil", "vegetable oil")),
    ("3 spring onions/scallions", "spring onions", ("scallions",)),
    ("10 g fresh yeast or 1 sachet dried yeast", "fresh yeast", ("dried yeast",)),
    ("1 tsp salt, or to taste", "salt", ()),
    ("1/4 pound butter, or more to taste", "butter", ()),
    ("2 or 3 carrots", "carrots", ()),
    ("1 cup ham diced or sliced", "ham", ()),
]


@pytest.mark.parametrize(("text", "name", "alternatives"), ALTERNATIVES)
def test_alternatives(text: str, name: str, alternatives: tuple[str, ...]) -> None:
    line = read(text)
    assert (line.name, line.alternatives) == (name, alternatives)


STATES = [
    ("400 g raw prawns", FoodState.RAW),
    ("1 cup cooked quinoa", FoodState.COOKED),
    ("2 cups cooked and shredded chicken", FoodState.COOKED),
    ("500 g leftover roast turkey", FoodState.COOKED),
    ("1 rotisserie chicken", FoodState.COOKED),
    ("250 g pouch microwave rice", FoodState.COOKED),
    ("440 g hokkien noodles (pre-cooked)", FoodState.COOKED),
    ("1 cup rice, cooked", FoodState.COOKED),
    ("1 cup chickpeas, cooked and cooled", FoodState.COOKED),
    ("1 cup rice, cooked until soft", None),
    ("2 potatoes, boiled and mashed", None),
    ("2 potatoes, to be boiled", None),
    ("1 cup urad dal, soaked overnight", None),
    ("1/2 cup coriander leaves, rinsed and dried", None),
    ("200 g dry spaghetti", FoodState.DRY),
    ("1 cup uncooked white rice", FoodState.DRY),
    ("500 g uncooked prawns", FoodState.RAW),
    ("3/4 cup basmati rice (dry)", FoodState.DRY),
    ("150 g basmati rice (dry weight)", FoodState.DRY),
    ("100 g dried apricots", FoodState.DRY),
    ("1/2 cup dry white wine", None),
    ("100 g dry roasted peanuts", None),
    ("100 g roasted peanuts", None),
    ("100 g sun-dried tomatoes", None),
    ("1 kg pork roast", None),
    ("100 g smoked salmon", None),
    ("1 cup parboiled rice", None),
    ("1 can chickpeas", FoodState.CANNED),
    ("2 x 400 g tins plum tomatoes", FoodState.CANNED),
    ("1 cup canned corn", FoodState.CANNED),
    ("tomatoes, canned", FoodState.CANNED),
    ("100 g frozen peas, thawed", FoodState.FROZEN),
    ("500 g frozen cooked prawns", FoodState.COOKED),
    ("1 cup frozen yogurt", None),
    ("400 g fresh or frozen spinach", None),
    ("10 g fresh yeast or 1 sachet dried yeast", None),
]


@pytest.mark.parametrize(("text", "state"), STATES)
def test_states_are_said_by_the_name_not_by_the_preparation(text: str, state: FoodState | None) -> None:
    assert read(text).state is state


FATS = [
    ("500g 5% fat pork mince", 5.0, "pork mince"),
    ("500 g beef mince 5 % fat", 5.0, "beef mince"),
    ("500 g beef mince, fat 10%", 10.0, "beef mince"),
    ("450g turkey mince (2% fat)", 2.0, "turkey mince"),
    ("1 lb 93% lean ground beef", 7.0, "ground beef"),
    ("1 lb lean 93% ground turkey", 7.0, "ground turkey"),
    ("2 lb ground beef (80/20)", 20.0, "ground beef"),
    ("1 lb ground beef 80-20", 20.0, "ground beef"),
    ("1 lb ground beef, 85%", 15.0, "ground beef"),
    ("1 lb 85% lean/15% fat ground beef", 15.0, "ground beef"),
    ("1 cup 2% milk", 2.0, "milk"),
    ("1 cup 1 percent milk", 1.0, "milk"),
    ("500g 0% fat Greek yogurt", 0.0, "Greek yogurt"),
    ("500 g 99% fat free yoghurt", 1.0, "yoghurt"),
    ("250 ml 35% cream", 35.0, "cream"),
    ("250 g quark (0.2% fat)", 0.2, "quark"),
    ("1 cup fat-free Greek yogurt", None, "fat-free Greek yogurt"),
    ("200 g cheddar, 25% reduced fat", None, "cheddar"),
    ("100 g dark chocolate (70% cocoa)", None, "dark chocolate"),
    ("500 g extra lean beef mince", None, "extra lean beef mince"),
]


@pytest.mark.parametrize(("text", "fat_percent", "name"), FATS)
def test_fat_percentages(text: str, fat_percent: float | None, name: str) -> None:
    line = read(text)
    assert (line.fat_percent, line.name) == (fat_percent, name)


WORDS = [
    ("1 kg bone-in, skin-on chicken thighs", {"bone in", "skin on", "skin and bone"}),
    ("1 kg mutton, curry cut, with bone", {"bone in"}),
    ("2 lb boneless skinless chicken breasts", {"boneless", "skinless"}),
    ("300g smoked haddock, skin removed", {"smoked", "skinless"}),
    ("95 g can tuna in springwater, drained", {"drained"}),
    ("1 can tomatoes, undrained", {"undrained"}),
    ("400 g can chickpeas (240 g drained)", {"drained weight"}),
    ("500 g mussels in shell", {"in shell"}),
    ("1 kg potatoes, unpeeled", {"unpeeled"}),
    ("500 g raw prawns, peeled and deveined", {"peeled", "deveined"}),
    ("1/4 cup packed brown sugar", {"packed"}),
    ("1 heaped tbsp flour", {"heaped"}),
    ("500 g zucchini, grated and squeezed", {"grated", "squeezed"}),
    ("500 g extra lean beef mince", {"extra lean"}),
    ("2 tbsp reduced-salt soy sauce", {"low sodium"}),
    ("40 g unsalted butter", {"unsalted"}),
    ("juice of 1 lemon", {"juice of"}),
]


@pytest.mark.parametrize(("text", "words"), WORDS)
def test_words_that_bear_on_weights(text: str, words: set[str]) -> None:
    assert read(text).words == words


FLAGS = [
    ("200 g Greek yoghurt (optional)", True, False),
    ("30 g roasted peanuts, chopped, to serve (optional)", True, False),
    ("1 tsp capers, if you like", True, False),
    ("1 to 2 chillies, seeded if desired and minced", False, False),
    ("salt to taste", False, True),
    ("Salt, if desired", True, True),
    ("Parmesan, for serving", False, True),
    ("oil for frying", False, True),
    ("water as needed", False, True),
    ("a little oil", False, True),
    ("some parsley", False, True),
    ("pinch cayenne, or to taste", False, False),
    ("a good glug of olive oil", False, False),
]


@pytest.mark.parametrize(("text", "optional", "to_taste"), FLAGS)
def test_flags(text: str, optional: bool, to_taste: bool) -> None:
    line = read(text)
    assert (line.kind, line.optional, line.to_taste) == (LineKind.FOOD, optional, to_taste)


NOT_FOOD = [
    "RICE BASE",
    "Rice base",
    "For the sauce:",
    "For the sauce",
    "Sauce",
    "MARINADE",
    "CHICKEN SALAD",
    "Method",
    "To serve",
    "baking paper, for lining",
    "8 bamboo skewers, soaked",
    "Kitchen string",
    "Preheat oven to 180C",
    "Serves 4",
    "Recipe follows",
    "See note",
    "30 minutes",
    "---",
    "",
    "https://pots.example/beans",
]


@pytest.mark.parametrize("text", NOT_FOOD)
def test_lines_that_are_no_food(text: str) -> None:
    line = read(text)
    assert (line.kind, line.amount, line.to_taste, line.diagnostics) == (LineKind.NOT_FOOD, None, False, ())


@pytest.mark.parametrize(
    "text", ["salt", "PANEER", "Soy sauce", "SOY SAUCE", "Tahini sauce", "Green salad", "stir fry vegetables"]
)
def test_bare_foods_are_foods(text: str) -> None:
    line = read(text)
    assert (line.kind, line.name) == (LineKind.FOOD, text)
