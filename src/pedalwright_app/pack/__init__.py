"""The workshop pack: a hand-out of one page and an instructor's plan for every module, printed from the built book."""
