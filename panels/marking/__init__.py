"""What does the label say that is put on equipment for its available fault current?"""
