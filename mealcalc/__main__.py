"""`python -m mealcalc` is the `mealcalc` command."""

from mealcalc.cli import main

if __name__ == "__main__":
    main()
