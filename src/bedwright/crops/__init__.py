"""Crops in the weather: stages, fruit set, frost, emergence, bolting, and planting dates."""
