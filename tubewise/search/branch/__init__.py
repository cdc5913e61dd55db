"""Branch and bound in double precision: sets of paints are ruled out, or solved.

A region is the mixtures between k vertices. At each wavelength K/S of such a mixture lies between
the vertices', and reflectance is a falling convex function of K/S. So reflectance is the vertices'
average up to an error that shrinks with the square of the region (`bounds`), and X, Y, Z lie in the
vertices' hull, widened by that error. A region is ruled out when a plane separates that from the
ball of better colours (`planes`), else it is cut in two (`tree`). Films, whose colour depends on K
and S apart, are bounded by monotonicity: reflectance falls with K and rises with S.
"""
