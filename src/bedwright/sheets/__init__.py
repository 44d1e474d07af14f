"""The printed bed sheet: what is said on it, and the paper."""
