"""The steps by which the database came to its present shape."""
