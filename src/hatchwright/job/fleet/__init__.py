"""The fleet file: aircraft with their times and weights, mandates, and a line for each side that gets an opening."""
