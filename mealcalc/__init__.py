"""Macros of a cooked batch, per component and per container, every figure traced to its source."""
