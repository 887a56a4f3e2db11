"""Does a plan keep every rule, and what is it worth? Written apart from whatever makes plans."""
