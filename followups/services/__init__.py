"""What the follow-up room can be asked to do."""
