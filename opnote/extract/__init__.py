"""Stage 4: a talk -> facts, each tied to a thing of the operation and to the words it came from."""
