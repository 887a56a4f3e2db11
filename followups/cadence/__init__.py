"""What do we owe whom next, and when may we say it? Pure: no database, no clock."""
