"""What was said and signed: a chain of entries in a database, the bytes they speak of, and the people who sign."""
