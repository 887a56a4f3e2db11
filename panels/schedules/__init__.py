"""What does a panel schedule kept in a spreadsheet say, breaker by breaker?"""
