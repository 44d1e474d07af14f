"""Numbers as the reports and the soil laboratories of North America write them: 1,234.5."""

DECIMAL_SEPARATOR = "."
THOUSAND_SEPARATOR = ","
