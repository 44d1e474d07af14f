"""What stands in beds that are needed, on the pages: what is left in it, and its ways out."""
