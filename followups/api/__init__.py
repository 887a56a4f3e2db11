"""The API calls of the follow-up room."""
