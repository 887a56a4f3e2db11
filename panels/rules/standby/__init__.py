"""What stays on in an outage, for how long, and is the standby source large enough?"""
