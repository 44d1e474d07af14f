"""Comparisons on the site: listed, laid out, measured, judged; what the years have shown."""
