"""The beds of the document on the pages."""
