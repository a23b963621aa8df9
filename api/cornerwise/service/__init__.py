"""What a user can ask for, one function each."""
