"""What does each panel and feeder of a site carry, leg by leg, and is it built for that?"""
