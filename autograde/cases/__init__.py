"""Case families: their contract, their variants, where they are found."""
