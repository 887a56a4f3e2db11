"""What the firm does with its rows."""
