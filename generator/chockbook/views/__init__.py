"""Plain data made from the catalogue for one reader's need each. Imports catalogue, drill, editions and results only."""
