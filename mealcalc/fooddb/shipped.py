"""Which food table the package ships. Kept apart from the code that reads it, which an answer seldom needs."""

BUNDLED_TABLE = "sr28"
"""Code of the table in the database."""

BUNDLE_FILE = "sr28-2016.zip"
"""The compressed table in `mealcalc/reference`, written by `data_loaders/bundle_sr28.py`."""

BUNDLE_SHA256 = "c8a733b78955ff18ffd039d52eeb48058a47e1252697b750d4f73454b1803e4f"
"""Checksum of that file. A database built from another file is built anew."""

SOURCES_FILE = "sources.toml"
SOURCES_KEY = "sr28-2016"
"""Where `mealcalc/reference` says what the table is and where it comes from."""
