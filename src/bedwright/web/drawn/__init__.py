"""Drawings for the pages, kept as long as what they show stays."""
