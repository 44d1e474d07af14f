"""How numbers are written on the pages, by language."""
