"""United Kingdom: assimilated Regulation (EU) No 1169/2011; order, salt, energy and rounding as in the Union.

Food prepacked for direct sale needs name and full ingredient list with allergens; a nutrition declaration only when a
claim is made (from memory).
"""

from mealcalc.labelling.schemes.base import Scheme
from mealcalc.labelling.schemes.eu import serving_statement

UNITED_KINGDOM = Scheme("uk", "United Kingdom: nutrition declaration", "% RI", serving_statement)
