"""How is a load calculation set on paper, for the permit application?"""
