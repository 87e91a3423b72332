"""From polygons back to true curves.

shapely knows straight chords only, but it keeps every vertex it is given to the last bit; only crossings are new. So
outlines are cut into chords with memory, shapely decides the topology, and every ring of the result is traced back:

    chains     source outlines as arrays of segments with neighbours; joints that should be one point made one
    supports   which segments lie on one circle, ellipse, line or cubic
    vertices   the chords: every vertex with its segment and t; shared stretches get the very same vertices
    nearby     the guard: where curves come close without crossing, both get a vertex at the closest approach
    classify   which chord of which segment every edge of a result ring is, or that it is lost
    runs       stretches of a ring that follow one chain
    joints     the exact crossing between one run and the next: Newton that walks along the chains
    emit       runs cut out of their chains as lines, arcs and cubics; neighbours on one support merged
    ring       one pass over all rings: classify, runs, joints, crumbs, emit, check
    fallback   the last resort where nothing exact was found; always named in the report
"""
