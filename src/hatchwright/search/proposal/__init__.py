"""Proposals: the ring, its rows and its rivets that the tables, the bay and the shop allow, or what forbids all of them."""
