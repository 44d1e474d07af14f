"""The command line: reads, calls one function, shows."""
