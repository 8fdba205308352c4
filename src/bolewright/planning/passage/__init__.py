"""What gets through: the way as it is, what each machine may carry on it, and the limit that sets the cut order."""
