"""The forms of the firm's pages."""
