"""What the panels room can be asked to do."""
