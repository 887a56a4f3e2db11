"""What people fill in about jobs."""
