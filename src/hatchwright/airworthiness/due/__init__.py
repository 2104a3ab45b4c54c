"""What is due on an aircraft, by which limit, and how that was worked out."""
