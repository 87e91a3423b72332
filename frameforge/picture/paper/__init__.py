"""Paper for people: full-size guides for those who cut or punch by hand, and hand-outs."""
