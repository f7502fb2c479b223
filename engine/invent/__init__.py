"""Invents sheets of hands: a grammar of shapes of our own, and play by simulation that balances them."""
