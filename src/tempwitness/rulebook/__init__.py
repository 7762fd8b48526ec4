"""The rulebook: published codes, local overrides and the foods that they speak of."""
