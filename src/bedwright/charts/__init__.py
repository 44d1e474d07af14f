"""Charts: one plain specification for pages and print, with its data inside."""
