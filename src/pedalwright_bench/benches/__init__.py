"""The benches: one module or folder each, exposing ``BENCH``; its name with hyphens is its name in pages."""
