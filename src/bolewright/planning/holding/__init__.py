"""What holds it up: contacts, the model of the tree on them, and the answer."""
