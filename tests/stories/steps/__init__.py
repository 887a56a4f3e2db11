"""What people do, step by step, as the stories tell it."""
