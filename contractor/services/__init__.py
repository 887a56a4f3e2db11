"""What the firm’s room can be asked to do."""
