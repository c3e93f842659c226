"""What everyday names mean in each region. Expected meanings are common practice of the kitchen, no source."""

import pytest

from mealcalc.matching.default_foods import index_for
from mealcalc.matching.normalise import phrase_key, take_phrase_apart
from mealcalc.matching.words import head_noun

# Region, name, description of the food that the table gives for it when the line says no state.
MEANINGS = """
au | capsicum | Peppers, sweet, red, raw
au | rockmelon | Melons, cantaloupe, raw
us | cantaloupe | Melons, cantaloupe, raw
au | zucchini | Squash, summer, zucchini, includes skin, raw
uk | courgette | Squash, summer, zucchini, includes skin, raw
us | zucchini | Squash, summer, zucchini, includes skin, raw
au | eggplant | Eggplant, raw
uk | aubergine | Eggplant, raw
us | eggplant | Eggplant, raw
in | brinjal | Eggplant, raw
au | rocket | Arugula, raw
uk | rocket | Arugula, raw
us | arugula | Arugula, raw
au | coriander | Coriander (cilantro) leaves, raw
uk | coriander | Coriander (cilantro) leaves, raw
us | cilantro | Coriander (cilantro) leaves, raw
in | coriander leaf | Coriander (cilantro) leaves, raw
au | silverbeet | Chard, swiss, raw
au | snow pea | Peas, edible-podded, raw
uk | mangetout | Peas, edible-podded, raw
us | snow pea | Peas, edible-podded, raw
au | spring onion | Onions, spring or scallions (includes tops and bulb), raw
au | shallot | Onions, spring or scallions (includes tops and bulb), raw
uk | spring onion | Onions, spring or scallions (includes tops and bulb), raw
us | scallion | Onions, spring or scallions (includes tops and bulb), raw
us | green onion | Onions, spring or scallions (includes tops and bulb), raw
au | pumpkin | Squash, winter, all varieties, raw
au | prawn | Crustaceans, shrimp, raw (not previously frozen)
uk | prawn | Crustaceans, shrimp, raw (not previously frozen)
in | prawn | Crustaceans, shrimp, raw (not previously frozen)
au | mince | Beef, ground, 90% lean meat / 10% fat, raw
nz | mince | Beef, ground, 90% lean meat / 10% fat, raw
au | gravy beef | Beef, New Zealand, imported, hind shin, separable lean and fat, raw
au | bacon | Pork, cured, ham, whole, separable lean and fat, unheated
au | tasty cheese | Cheese, cheddar
au | thickened cream | Cream, fluid, heavy whipping
uk | double cream | Cream, fluid, heavy whipping
us | heavy cream | Cream, fluid, heavy whipping
au | plain flour | Wheat flour, white, all-purpose, unenriched
in | maida | Wheat flour, white, all-purpose, unenriched
au | self raising flour | Wheat flour, white, all-purpose, self-rising, enriched
au | cornflour | Cornstarch
uk | cornflour | Cornstarch
us | cornstarch | Cornstarch
au | tomato sauce | Catsup
au | tomato paste | Tomato products, canned, paste, without salt added
uk | tomato puree | Tomato products, canned, paste, without salt added
us | tomato paste | Tomato products, canned, paste, without salt added
au | caster sugar | Sugars, granulated
uk | caster sugar | Sugars, granulated
us | superfine sugar | Sugars, granulated
au | bicarb soda | Leavening agents, baking soda
uk | bicarbonate of soda | Leavening agents, baking soda
us | baking soda | Leavening agents, baking soda
au | chicken maryland | Chicken, broilers or fryers, leg, meat and skin, raw
au | light milk | Milk, reduced fat, fluid, 2% milkfat, without added vitamin A and vitamin D
uk | semi skimmed milk | Milk, reduced fat, fluid, 2% milkfat, without added vitamin A and vitamin D
au | butter bean | Lima beans, large, mature seeds, cooked, boiled, without salt
uk | butter bean | Lima beans, large, mature seeds, cooked, boiled, without salt
au | chip | Potatoes, french fried, all types, salt added in processing, frozen, unprepared
uk | chip | Potatoes, french fried, all types, salt added in processing, frozen, unprepared
au | lemonade | Beverages, carbonated, lemon-lime soda, no caffeine
au | treacle | Molasses
uk | treacle | Molasses
au | desiccated coconut | Nuts, coconut meat, dried (desiccated), not sweetened
au | sultana | Raisins, golden seedless
uk | sultana | Raisins, golden seedless
us | golden raisin | Raisins, golden seedless
au | kumara | Sweet potato, raw, unprepared
nz | kumara | Sweet potato, raw, unprepared
au | burghul | Bulgur, dry
au | chilli flake | Spices, pepper, red or cayenne
nz | trim milk | Milk, nonfat, fluid, without added vitamin A and vitamin D (fat free or skim)
uk | mince | Beef, ground, 85% lean meat / 15% fat, raw
ie | mince | Beef, ground, 85% lean meat / 15% fat, raw
eu | mince | Beef, ground, 85% lean meat / 15% fat, raw
uk | lamb mince | Lamb, New Zealand, imported, ground lamb, raw
uk | swede | Rutabagas, raw
ie | turnip | Rutabagas, raw
us | rutabaga | Rutabagas, raw
uk | turnip | Turnips, raw
uk | gammon | Pork, cured, ham, boneless, extra lean and regular, unheated
uk | back bacon | Pork, cured, ham, center slice, separable lean and fat, unheated
uk | bacon | Pork, cured, ham, center slice, separable lean and fat, unheated
ie | rasher | Pork, cured, ham, center slice, separable lean and fat, unheated
uk | plain flour | Wheat flour, white, all-purpose, enriched, calcium-fortified
uk | strong white flour | Wheat flours, bread, unenriched
uk | wholemeal flour | Wheat flour, whole-grain
in | atta | Wheat flour, whole-grain
uk | passata | Tomato products, canned, puree, without salt added
us | tomato puree | Tomato products, canned, puree, without salt added
uk | crisp | Snacks, potato chips, plain, salted
us | chip | Snacks, potato chips, plain, salted
uk | jam | Jams and preserves
uk | broad bean | Broadbeans, immature seeds, raw
us | fava bean | Broadbeans, immature seeds, raw
uk | runner bean | Beans, snap, green, raw
uk | haricot bean | Beans, navy, mature seeds, canned
us | navy bean | Beans, navy, mature seeds, canned
uk | marrow | Squash, summer, all varieties, raw
uk | celeriac | Celeriac, raw
uk | icing sugar | Sugars, powdered
us | powdered sugar | Sugars, powdered
uk | demerara sugar | Sugar, turbinado
uk | golden syrup | Syrups, table blends, corn, refiner, and sugar
uk | stewing beef | Beef, chuck for stew, separable lean and fat, all grades, raw
uk | rump steak | Beef, top sirloin, steak, separable lean and fat, trimmed to 1/8" fat, all grades, raw
uk | mutton | Lamb, domestic, composite of trimmed retail cuts, separable lean and fat, trimmed to 1/8" fat, choice, raw
uk | kipper | Fish, herring, Atlantic, kippered
uk | black pudding | Blood sausage
us | ground beef | Beef, ground, 80% lean meat / 20% fat, raw
us | shrimp | Crustaceans, shrimp, mixed species, raw (may have been previously frozen)
us | bacon | Pork, cured, bacon, unprepared
us | canadian bacon | Canadian bacon, unprepared
ca | back bacon | Canadian bacon, unprepared
us | corn flour | Corn flour, whole-grain, yellow
us | all purpose flour | Wheat flour, white, all-purpose, enriched, bleached
us | half and half | Cream, fluid, half and half
us | tomato sauce | Tomato products, canned, sauce
us | biscuit | Biscuits, plain or buttermilk, prepared from recipe
us | cider | Apple juice, canned or bottled, unsweetened, without added ascorbic acid
us | jelly | Jellies
us | garbanzo bean | Chickpeas (garbanzo beans, bengal gram), mature seeds, canned, drained solids
us | beet | Beets, raw
us | bell pepper | Peppers, sweet, green, raw
in | capsicum | Peppers, sweet, green, raw
us | graham cracker | Cookies, graham crackers, plain or honey (includes cinnamon)
us | chuck roast | Beef, chuck, blade roast, separable lean and fat, trimmed to 1/8" fat, all grades, raw
us | lemonade | Lemonade, frozen concentrate, white, prepared with water
in | rajma | Beans, kidney, red, mature seeds, raw
in | toor dal | Pigeon peas (red gram), mature seeds, raw
in | chana dal | Chickpeas (garbanzo beans, bengal gram), mature seeds, raw
in | chole | Chickpeas (garbanzo beans, bengal gram), mature seeds, raw
in | kabuli chana | Chickpeas (garbanzo beans, bengal gram), mature seeds, raw
in | moong dal | Mung beans, mature seeds, raw
in | masoor dal | Lentils, pink or red, raw
in | urad dal | Mungo beans, mature seeds, raw
in | besan | Chickpea flour (besan)
in | sooji | Semolina, unenriched
in | poha | Rice, white, long-grain, parboiled, unenriched, dry
in | paneer | Cheese, white, queso blanco
in | curd | Yogurt, plain, whole milk, 8 grams protein per 8 ounce
in | ghee | Butter oil, anhydrous
in | jaggery | Sugars, brown
in | haldi | Spices, turmeric, ground
in | jeera | Spices, cumin seed
in | bhindi | Okra, raw
in | ladyfinger | Okra, raw
in | gobi | Cauliflower, raw
in | palak | Spinach, raw
in | aloo | Potatoes, flesh and skin, raw
in | lauki | Gourd, white-flowered (calabash), raw
in | karela | Balsam-pear (bitter gourd), pods, raw
in | mutton | Goat, raw
in | keema | Goat, raw
in | drumstick | Drumstick pods, raw
in | sabudana | Tapioca, pearl, dry
in | rohu | Fish, carp, raw
in | catla | Fish, carp, raw
in | jowar | Sorghum grain
in | bajra | Millet, raw
eu | tuna | Fish, tuna, light, canned in water, without salt, drained solids
eu | streaky bacon | Pork, cured, shoulder, blade roll, separable lean and fat, unheated
eu | lardon | Pork, cured, shoulder, blade roll, separable lean and fat, unheated
"""


def _meanings() -> list[tuple[str, str, str]]:
    rows = [line.split(" | ") for line in MEANINGS.strip().splitlines()]
    return [(region, name, description) for region, name, description in rows]


@pytest.mark.parametrize(("region", "name", "description"), _meanings())
def test_name_means_what_cooks_of_the_region_mean(region: str, name: str, description: str) -> None:
    head = head_noun(take_phrase_apart(name).words) or ""
    entry = next(entry for entry in index_for(region).entries(phrase_key(name)) if entry.head == head)
    assert not entry.foreign
    assert [row.description for row in entry.rows if row.is_default] == [description]


def test_words_that_part_regions() -> None:
    # The same name, another food.
    by_name: dict[str, set[str]] = {}
    for _, name, description in _meanings():
        by_name.setdefault(name, set()).add(description)
    parted = {name for name, descriptions in by_name.items() if len(descriptions) > 1}
    assert {"mince", "bacon", "back bacon", "chip", "tomato sauce", "lemonade", "mutton", "capsicum"} <= parted
