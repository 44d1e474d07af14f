"""Comparisons of strips and beds: laid out, read, analysed; and what the years have shown."""
