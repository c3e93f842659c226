"""Classes of words that bear on matching: which ones never change a food, and which ones qualify it.

Reviewed by hand; common practice of the kitchen, no source. Every word stands in the normal form of `normalise`.
"""

from collections.abc import Mapping

NEUTRAL = frozenset(
    "fresh freshly ripe organic goodquality good quality best premium freerange free range farmed sustainable local "
    "homemade favourite favorite preferred your any kind type sort style such quick easy nice real pure natural plain "
    "regular ordinary standard basic everyday simple additional extra more other about approx approximately roughly "
    "heaped level rounded scant generous packed loosely tightly lightly very well just ready everything optional "
    "leftover storebought bought shop coldpressed stoneground unrefined filtered unfiltered virgin ev evoo authentic "
    "traditional classic genuine finest chilled cold warm hot lukewarm tepid boiling boiled room temperature iced "
    "softened melted cooled heated prepared washed unwashed rinsed clean cleaned small medium large big little jumbo "
    "giant mini huge tiny long short thin thick thinly thickly fine finely coarse coarsely size sized bite inch cm mm "
    "piece chunk cube dice strip stick round disc ring wedge matchstick batons baton julienne julienned ribbon "
    "chopped diced sliced minced grated shredded crushed cubed halved quartered torn peeled unpeeled trimmed pitted "
    "stoned deseeded seeded deveined scored pricked beaten whisked sifted mashed flaked crumbled cracked bruised "
    "picked stemmed stripped split slit cored hulled podded destoned slivered unpitted unstoned scrubbed topped "
    "tailed zested squeezed sprouted scraped cut wholesome bulk family value pack bag tray tub box carton punnet "
    "whole entire half thawed defrosted shelled drained undrained dry-packed soaked overnight pre precut prewashed "
    "bunch sprig stalk stem head clove bulb ear florets floret floweret leaf leave frond flesh part only cook cooking "
    "for with per each plus but not no if as is are it need needed save desired note garnish plump slab live loose "
    "tender imported domestic assorted seasoned unblemished".split()
)
"""Words that may be left over when a name is matched without casting doubt on the match."""

NEVER_NEUTRAL = frozenset("half whole leaf stem head bulb stick extra dry hot".split())
"""Neutral words that a name itself may need: dropped last, and only when no name holds them."""

STATES = frozenset(
    "raw uncooked cooked boiled roasted roast baked grilled broiled braised stewed steamed fried poached microwaved "
    "rotisserie barbecued panfried sauteed canned tin can jar jarred bottled frozen dried dry dehydrated "
    "freezedried fresh precooked unprepared unheated heated reheated".split()
)
"""Words of state: settled by the state of the line, so they count neither for nor against a food."""

QUALIFIERS = frozenset(
    "skinless skinon boneless bonein lean fatty smoked unsmoked unsalted salted lowsodium salt sodium added nonfat "
    "lowfat fat light skim skimmed semiskimmed whole full cream creamy sweetened unsweetened sugar oil water "
    "springwater brine syrup juice vinegar mixed brown white black red green yellow orange purple dark pale golden "
    "firm silken soft hard mild strong mature aged young baby old new ground powdered powder flake granule "
    "granulated crystal smooth crunchy blanched toasted roasted raw natural cured uncured streaky back middle thick "
    "thin enriched unenriched fortified instant quick rolled steelcut long short medium grain wholemeal wholegrain "
    "seedless stuffed marinated pickled glazed crumbed breaded battered reduced free low high greek strained set "
    "pouring double single thickened whipping heavy cultured solid concentrate concentrated condensed evaporated "
    "made liquid extra plain "
    "italian french spanish english irish scottish european american japanese chinese asian oriental thai mexican "
    "turkish indian".split()
)
"""Words that qualify a food: a name with them is preferred when the line says them, and they weigh less than nouns."""

FAT_WORDS = frozenset(
    "fat nonfat lowfat light skim skimmed semiskimmed whole full trim reduced low free lean extra regular".split()
)
"""Words by which foods of one family differ in fat only."""

FRESH_UNITS = frozenset(["sprig", "bunch", "handful", "leaf", "stalk", "head", "bulb"])
"""Units in which herbs and vegetables are measured fresh, never dried."""

CLASS_WORDS = frozenset(
    "fish meat cheese fillet steak vegetable fruit spice herb nut bean grain lettuce pasta noodle berry pepper "
    "mushroom green".split()
)
"""Words that name the class of a food beside its own name ('rohu fish', 'penne pasta'): left over, they add nothing
where the description of the food holds them. Elsewhere they change the food: 'chickpea pasta' is no chickpea."""

IDLE_AT_THE_END = frozenset("fillet steak meat fruit spice herb vegetable".split())
"""Class words that add nothing after the name of any food: 'cod fillet', 'mango fruit'."""

CUTS = frozenset(
    "neck medallion saddle shank shoulder leg loin chop cutlet rack rib belly breast thigh wing haunch cheek knuckle "
    "escalope noisette joint side flank brisket rump sirloin topside silverside".split()
)
"""Cuts of an animal: where the table does not hold one, the meat of the animal stands in for it, as a guess."""

COUNTED_FOODS: Mapping[tuple[str, ...], tuple[str, ...]] = {("pepper",): ("bell", "pepper")}
"""Names that mean another food where pieces are counted or the word is a plural: 2 peppers, but 1 tsp pepper."""

SUBSTANCES = frozenset("oil water juice vinegar sugar salt cream syrup brine powder concentrate".split())
"""Qualifiers that are the food itself when they come last: 'tuna in oil' is tuna, 'olive oil' is oil."""


def head_noun(words: tuple[str, ...]) -> str | None:
    """The word that says what the food is; English puts it last ('garlic bread' is bread). None if all words qualify.

    Parameters
    ----------
    words : tuple of str
        Tokens of a food phrase in the order of the phrase.
    """
    named = [word for word in words if word not in NEUTRAL and word not in STATES and not word.isdigit()]
    if named and named[-1] in SUBSTANCES:
        return named[-1]
    return next((word for word in reversed(named) if word not in QUALIFIERS and word not in CLASS_WORDS), None)


SPOON_UNITS = frozenset(["cup", "tbsp", "tsp", "dessertspoon"])
"""Units by which solids are lifted out of a can, liquid left behind."""
