"""Invented gardens to try bedwright on: Kestrel Bend (US customary) and Ennery Flat (metric)."""
