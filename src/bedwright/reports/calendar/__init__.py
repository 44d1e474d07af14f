"""The season plan as a calendar file (RFC 5545) that calendar programs take and keep up."""
