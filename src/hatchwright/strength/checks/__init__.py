"""The checks of a strength report: each turns a site and a load case into margins or findings."""
