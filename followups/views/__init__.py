"""The pages of the follow-up room."""
