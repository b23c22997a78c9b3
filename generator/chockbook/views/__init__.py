"""Plain data made from the catalogue for one reader's need each. Imports the catalogue only."""
