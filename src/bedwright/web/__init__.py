"""The site in the shed: pages, journal and database. A shell; nothing is computed here."""
