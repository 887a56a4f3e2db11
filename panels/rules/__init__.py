"""What does the code allow, and what does this panel carry?"""
