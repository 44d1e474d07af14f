"""The season's calendar on the site: its page, its download, its private address."""
