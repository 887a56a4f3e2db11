"""The pages of the firm."""
