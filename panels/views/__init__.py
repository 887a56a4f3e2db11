"""The pages of the panels room."""
