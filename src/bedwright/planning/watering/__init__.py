"""Watering: what each bed's water balance says over the years, and what runs today."""
