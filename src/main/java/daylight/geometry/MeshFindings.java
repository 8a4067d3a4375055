package daylight.geometry;

/**
 * What a mesh turned out to be: closed parts count as solid inside, the rest as a bare surface.
 *
 * @param triangles triangles that enclose an area, vertices at one place counted as one
 * @param closedParts connected parts without a free edge
 * @param openTriangles triangles of parts that are not closed: holes, edges of more than two triangles, or a surface
 *     with one side
 * @param turnedTriangles triangles of closed parts that faced inwards and were taken as facing outwards
 */
public record MeshFindings(int triangles, int closedParts, int openTriangles, int turnedTriangles) {
    /** Returns what a mesh is. Cost: linear in its triangles, and again for each part drawn inside out. */
    public static MeshFindings of(Shape.Mesh mesh) {
        ClosedMesh closed = ClosedMesh.of(mesh);
        return new MeshFindings(closed.triangles, closed.closedParts, closed.open, closed.turned);
    }
}
