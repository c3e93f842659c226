"""Speed of mealcalc, measured, never tested: `make bench`."""
