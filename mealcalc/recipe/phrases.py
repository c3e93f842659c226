"""Reviewed word lists for the food phrase of a line: preparation, descriptors, alternatives, and what is no food."""

PARTICIPLES = frozenset(
    "chopped minced diced sliced grated shredded crushed cubed halved quartered torn peeled unpeeled trimmed seeded "
    "deseeded "
    "de-seeded cored hulled stemmed melted softened beaten whisked sifted mashed crumbled cracked bruised scored "
    "squeezed rinsed "
    "drained washed scrubbed cleaned soaked thawed defrosted toasted julienned snipped slivered flaked zested "
    "juiced cut picked "
    "plucked packed split slit broken separated divided smashed bashed pounded flattened deveined shelled shucked "
    "pitted unpitted stoned unstoned "
    "skinned boned deboned cooled chilled warmed heated blanched mixed whipped stirred pressed strained shaved "
    "spiralized "
    "spiralised riced segmented tied trussed butterflied scaled gutted podded destoned ground pureed sieved pricked "
    "dusted "
    "sprouted crumbed processed scraped pared julienne chiffonade cooked steamed boiled sauteed fried grilled "
    "roasted reserved "
    "debearded stripped bundled wiped patted plumped refrigerated pulled chunked topped tailed combed ribboned "
    "soft-boiled "
    "hard-boiled hard-cooked sectioned peel-on dissolved made".split()
)
"""Participles by which cooks say how a food is prepared."""

PURE_PREPARATION = PARTICIPLES - frozenset(
    "ground cooked steamed boiled roasted fried grilled mixed blanched packed whipped chilled soft-boiled hard-boiled "
    "hard-cooked sprouted crumbed pulled pressed".split()
)
"""Participles that, after the noun, are never part of the name of a food."""

ADVERBS = frozenset(
    "finely freshly roughly coarsely thinly thickly lightly very well newly loosely tightly firmly gently carefully "
    "crosswise "
    "lengthwise diagonally separately partially partly cleanly evenly neatly fine thin just still barely nicely "
    "fairly quite "
    "slightly medium-finely more".split()
)

MEATS = frozenset(
    "beef pork lamb veal chicken turkey meat mutton goat venison bison kangaroo duck round chuck sirloin steak sausage "
    "hamburger soy tofu".split()
)
"""Foods that `minced` and `ground` name rather than prepare."""

DESCRIPTORS = (
    PARTICIPLES
    | ADVERBS
    | frozenset(
        "fresh ripe organic good-quality quality good best free-range large small medium big boneless skinless bone-in "
        "skin-on hot cold "
        "warm cool lukewarm tepid dry dried raw frozen canned tinned thick thin young old tender firm soft mature lean "
        "extra plain "
        "unsalted salted whole heavy light dark sweet tart mild crisp crusty long short large-size medium-size bright "
        "clean pure natural "
        "unbleached unsweetened low-fat nonfat fat-free low-sodium no-salt-added reduced-sodium smooth chunky coarse "
        "day-old stale plump "
        "strong high-quality top-quality homemade store-bought leftover smoked unsmoked freeze-dried vacuum-packed "
        "precooked pre-cooked "
        "weight lightly bottled jarred regular "
        "thick-cut thin-cut center-cut fine skinned uncooked room-temperature favorite "
        "favourite all-natural grass-fed "
        "wild farmed farm-raised firm-fleshed white-fleshed quick-cooking and or not too the".split()
    )
)
"""Words that only describe: a phrase of nothing else goes on after its comma (`boneless, skinless chicken breasts`)."""

AFTER_PARTICIPLE = frozenset(
    "and or into in on fine very thin thinly finely coarsely roughly lengthwise crosswise diagonally if with to for "
    "as until at by "
    "off from through over then but small large thick & well".split()
) | (ADVERBS - {"fresh"})
"""Words after a participle that show it says what the cook does, so the food phrase ends before it."""

ENDS_NAME = frozenset(
    "such like preferably for to from about approximately plus until at cut if as recipe see per depending which "
    "that including "
    "note into + each total optional needed i.e e.g eg ie about approx weighing weighed equal equivalent enough "
    "because but".split()
)
"""Words that end the food phrase."""

KEPT_AFTER_IN = frozenset(
    "oil water brine springwater spring juice syrup tomato sauce olive sunflower own adobo vinegar natural light "
    "salt gravy soya "
    "soy chilli chili mustard jelly vegetable heavy salted unsalted extra virgin sugar lemon harissa aspic".split()
)
"""What a food is kept or sold in: `tuna in oil` is another food than tuna."""

CUT_AFTER_WITH = frozenset("stone stones pit pits their its liquid juice juices some more extra a the".split())

NO_ALTERNATIVE = frozenset(
    "more so less to as enough similar other another if any use until about thereabouts equivalent equal "
    "combination mixture "
    "mix both use your whatever according however until not substitute homemade store-bought even for".split()
)
"""What starts after `or` without being another food."""

SHARED_HEADS = frozenset(
    "oil oils rice flour milk milks bean beans cheese vinegar wine stock broth sugar pasta noodles noodle lentils "
    "lentil mince mustard "
    "pepper peppers onion onions juice zest yogurt yoghurt bread breadcrumbs crumbs seeds seed nuts leaves potatoes "
    "potato "
    "mushrooms mushroom cream sauce powder syrup paste fillets fillet breast breasts thighs thigh lettuce apples "
    "apple cabbage "
    "tomatoes tomato chocolate sausage sausages steak steaks olives squash tofu ham bacon salt butter extract "
    "tortillas "
    "chops chop chiles chillies chilies chile chilli chili".split()
)
"""Last words that both sides of an `or` share: olive or rapeseed oil."""

STANDS_ALONE = frozenset(
    "water butter margarine cream honey ghee lard yogurt yoghurt cheese wine salt sugar beer cider tofu tempeh parsley "
    "basil coriander cilantro rum brandy sherry lemon-juice molasses treacle crisco shortening mayonnaise pasta bread "
    "raisins sultanas currants tamari bacon ham shallot shallots leek leeks spinach kale".split()
)
"""Words that are a food by themselves, so nothing is shared with what stands after the `or`."""

INVERTED = frozenset(
    "black white red green brown yellow purple olive vegetable canola rapeseed sunflower peanut sesame coconut "
    "ground whole skim "
    "skimmed semi-skimmed plain all-purpose self-raising self-rising wholemeal whole-wheat kidney sweet baking "
    "basmati jasmine "
    "arborio cherry plum spring balsamic dried smoked minced cheddar caster icing powdered heavy double single sour "
    "greek soy "
    "navy pinto cannellini cottage parmesan".split()
)
"""Words that, alone after the comma, belong before the name: beef, ground; onion, red; oil, olive."""

COLOURS = frozenset("red green yellow orange white black brown purple golden light dark".split())
"""Colours: alone beside another food they share its noun (red and green pepper)."""

SHARED_ADJECTIVES = frozenset(
    "ground dried fresh chopped frozen minced grated toasted whole powdered sliced diced".split()
)
"""Words before a list of foods with one amount that hold for each of them: 1 tsp each ground cumin and coriander."""

REMARK_STARTS = frozenset(
    "about approximately approx from see or optional such like preferably not if use i you for to plus more with "
    "without including "
    "reserve reserved can recipe available note as at in homemade e.g eg i.e ie any use do don't store-bought "
    "thawed depending "
    "your the one this these they which when both all each total roughly around page make made substitute save discard "
    "leave left keep add cut weight makes yields size and but just no on per".split()
)
"""First words of a bracket that holds a remark, not a second name of the food."""

HEADING_WORDS = frozenset(
    "base topping toppings marinade filling garnish garnishes layer assembly glaze crust coating rub ingredients "
    "method directions "
    "instructions notes equipment extras accompaniments component components serving".split()
)
"""Last words of a heading when no amount stands before them."""

HEADING_WHEN_LOUD = frozenset(
    "sauce dressing dough salad soup stew bowl bowls curry mix mixture seasoning gravy salsa pesto main sides".split()
)
"""Last words of a heading when the line is in capitals or is this word alone; else they are foods (`soy sauce`)."""

EQUIPMENT = frozenset(
    "baking paper|parchment paper|parchment|greaseproof paper|wax paper|waxed paper|foil|aluminium foil|aluminum "
    "foil|tin foil|"
    "kitchen foil|cling film|clingfilm|plastic wrap|cling wrap|skewer|skewers|toothpick|toothpicks|cocktail "
    "stick|cocktail sticks|"
    "kitchen string|kitchen twine|butcher's twine|string|twine|muffin case|muffin cases|cupcake liner|cupcake "
    "liners|muffin liners|"
    "paper case|paper cases|paper towel|paper towels|kitchen paper|kitchen towel|kitchen "
    "roll|cheesecloth|muslin|container|containers|"
    "meal prep containers|zip-lock bag|zip-lock bags|ziplock bags|freezer bag|freezer bags|baking dish|pie "
    "dish|loaf tin|loaf pan|"
    "cake tin|roasting tin|baking tray|baking sheet|muffin tin|muffin tray|piping bag|slow cooker|pressure "
    "cooker|rice cooker|"
    "popsicle sticks|lollipop sticks|thermometer|kitchen scale|food processor|blender|stick blender|cedar "
    "plank|lunch boxes|"
    "storage boxes|jars with lids|measuring cup|saucepan|frying pan|casserole dish|ramekins|oven bag|wooden "
    "spoon|wood chips|"
    "napkins|paper plates|charcoal".split("|")
)
"""Things of the kitchen that no one eats; matched as the last words of the food phrase."""

INSTRUCTION_STARTS = frozenset(
    "preheat serves makes yields yield note notes tip tips see recipe cook bake boil simmer stir mix add combine "
    "heat place store "
    "freeze refrigerate reheat divide prepare soak marinate transfer pour cover drain fry sprinkle repeat portion "
    "remove bring "
    "whisk blend chop leave allow let adapted source author servings difficulty ready".split()
)
"""First words of a note or an instruction; only without an amount, and with more words after them."""

INSTRUCTION_EXCEPTIONS = frozenset("fry bought made sauce mix blend powder base cook vegetables".split())
"""Second words that make such a line a food after all: stir fry sauce, store bought pesto."""

SAUCES = frozenset(
    "soy soya fish oyster hoisin tomato hot chilli chili bbq barbecue worcestershire teriyaki sriracha pasta pizza "
    "mint cranberry "
    "apple tartare tartar sweet black plum pepper peppercorn cheese green white brown enchilada marinara steak "
    "tamari duck "
    "curry-sauce buffalo satay peanut salad caesar ranch italian french pie bread basil spice sun-dried".split()
)
"""First words of sauces and mixes that are foods, even in capitals."""

LABELS = frozenset(
    ("to serve", "for serving", "to garnish", "for garnish", "garnish", "optional", "topping", "toppings")
)
"""Words before a colon that label the food after it: `To serve: 4 naan breads`."""

NOTE_PHRASES = (
    "prep time",
    "cook time",
    "cooking time",
    "total time",
    "recipe follows",
    "serving size",
    "for serving",
    "to serve",
    "to garnish",
    "for garnish",
    "see note",
    "gas mark",
)
"""Lines that are a note when they hold nothing else, or begin with one of these and a colon or a number."""
