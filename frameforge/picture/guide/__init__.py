"""Full-size guides for those who cut or punch by hand: what is printed, and how it is parted over pages."""
