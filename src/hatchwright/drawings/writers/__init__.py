"""Writers: one file per format; each knows the neutral sheet, profiles, and its own library, nothing else."""
