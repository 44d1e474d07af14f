"""The season plan as a spreadsheet: sheets of plain rows, and the file that holds them."""
