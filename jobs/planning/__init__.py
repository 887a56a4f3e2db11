"""Who goes where, when, and why not otherwise? Pure: no database, no clock."""
