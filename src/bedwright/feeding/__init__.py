"""Feeding: what a material holds, how much of it a bed is given and how it is measured out."""
