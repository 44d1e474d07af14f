"""The record of the beds on the site: its page and its files."""
