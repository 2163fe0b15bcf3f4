"""Stage 3: heard text -> a talk: statements, quantities, terms, stance and corrections in one spaCy ``Doc``."""
