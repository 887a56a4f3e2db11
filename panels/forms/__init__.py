"""What people type about panels, and what is asked of them."""
