"""The screen: most sets of paints are ruled out here, by the million and in single precision.

As in `branch`, a region is the mixtures between up to four vertices, and a plane shall separate it
from the ball of better colours. The bound is another one, made to be cheap. Reflectance is a convex
function of q = K/S. Where the plane counts a band upwards, reflectance lies above the tangent at
some mixture, the *tangent point*; where it counts a band downwards, below the vertices' average.
Both are linear in the vertices' shares of S at that band. With shares common to all bands every
vertex's excess over the tangent point is multiplied by its N over the mixture's N (N: S over its
mean), which lies between known limits. So each vertex gets a *score*, and the region lies beyond
the plane by the scores' average, whatever the shares: the least score decides (`bounds`).

When one vertex alone scores below zero, whatever is better lies near it: the region shrinks to
the shares whose average score isn't positive, which is a smaller region of the same kind. Else it
is cut in two where it bends most (`tree`).

Single precision doubles the speed. For what rounding may do every plane is moved towards the region
by `tables.SLACK` of its weights' sum; tests/search/screen compares with double precision. Sets that
stay open are left to `branch`, which works in double precision throughout.
"""
