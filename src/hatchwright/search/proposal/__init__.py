"""Proposals: the rings, rows and rivets that tables, bay and shop allow, or what forbids all of them."""
