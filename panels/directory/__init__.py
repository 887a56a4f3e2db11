"""What does the directory of a panel say, and how is it set on paper?"""
