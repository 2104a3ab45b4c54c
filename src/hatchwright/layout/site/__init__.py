"""What follows from a site survey: landmarks, corners, the center by its routes, and what the job says otherwise."""
