"""The pages of the jobs room."""
