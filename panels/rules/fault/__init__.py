"""Which current can flow into a fault at each panel of a site, and is everything rated for it?"""
