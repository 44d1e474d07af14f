"""The season plan as a spreadsheet: a page that tells what is in it, and the file."""
