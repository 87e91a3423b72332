"""From polygons back to true curves.

shapely knows straight chords only, but it keeps every vertex it is given to the last bit; only crossings are new. So
outlines are cut into chords with memory, shapely decides the topology, and every ring of the result is traced back.

Before shapely is asked:

    chains       source outlines as one table of segments with neighbours; joints that should be one point made one
    supports     which segments lie on one line, circle or ellipse, or are one cubic (clusters: how that is found)
    vertices     the chords: every vertex with its segment and t
    shared       the very same vertices for segments on one support
    strips       the chords in a search tree
    nearby       the guard: where curves come close both get vertices, so that chords lie as the curves do
    crossings    crossings that a third curve passes close by
    cubic_loops  where a cubic crosses itself
    added        vertices put in afterwards, common to all curves through them
    source       all of that in one value

After it has answered:

    classify     which chord of which segment every edge of a result ring is, or that it is lost
    runs         stretches of a ring that follow one chain
    joints       the exact crossing between one run and the next: Newton that walks along the chains
    ends         all joints of all rings; runs without length dropped, spurs cut back
    emit         runs cut out of their chains, neighbours on one support made one
    fallback     the last resort where nothing exact was found; always told
    tracing      the above for all rings at once
    settle       what is still undecided, as vertices for asking shapely again
    check        the last look: do the outlines cross, where do they touch
"""
