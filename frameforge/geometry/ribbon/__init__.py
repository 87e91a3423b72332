"""Parallel outlines: exact curves at a constant distance, found through an ordinary boolean.

The parallels of single segments are exact, or fitted where they are no curve of ours; which parts of them bound the
result is a question of topology. It is put to shapely in this form: every parallel segment is the outer edge of a thin
**ribbon**, round a **core** that lies safely inside. Every edge of the true boundary is then a chord of a parallel
segment, and the tracer of ``geometry.trace`` finds the curves again.

    stretches   the source cut into parts that have a parallel, fitted or exact, and parts that have none (inverted)
    cuts        where a curve is cut for that: inverted stretches, and so that no part turns far
    fit         cubics fitted to the parallels of cubics and elliptical arcs, many at once
    chains      parallel segments joined at corners by arcs or mitres, and broken where the corner is hollow
    spine       the core of a widened line
    bands       the polygons along the chains: ribbons, the covers of their seams, the sectors of corners
    fillers     the polygons under inverted parts
    evaluate    all of it for one task, repeated finer while anything is amiss
    proof       that a result lies at the distance it should
"""
