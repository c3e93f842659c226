"""Brings published food tables into the food database; nothing in mealcalc imports it on the way to an answer."""
