"""Stage 5: facts and the case sheet -> the record, with every word accounted for."""
