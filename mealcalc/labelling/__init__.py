"""Nutrition panels by the law of a country: rows, rounding by clause, percentages, claims, tolerances.

Amounts come in as a `PanelInput` and are computed without rounding to the end; each figure is rounded once, here, by
the clause of the scheme. A clause whose text was not read is shown as unverified.
"""
