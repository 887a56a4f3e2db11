"""What the panels' rows say."""
