package daylight.geometry;

import java.util.Arrays;
import java.util.Optional;

/**
 * A shape made ready for measuring: convex pieces, each a core grown by a rounding radius, under a tree of boxes.
 *
 * <p>Frame: that of the body, which is the car frame at ride height; mm. The solid never moves: {@link Gauge}
 * is told where it is.
 *
 * <p>Outward: where a shape is not a union of convex pieces (bends, holes, hollow turned parts) the pieces hold the
 * true shape and exceed it by at most {@link #sagittaMm()}, so that no gap is ever overstated.
 *
 * <p>Immutable once made; any number of threads may share it.
 */
public final class Solid {
    /** Greatest distance, mm, by which any solid may exceed the true shape. */
    public static final double SAGITTA_MM = 0.02;

    /** How many numbers a node's box takes. */
    static final int BOX_NUMBERS = 16;

    /** So few pieces are looked at one by one rather than through further boxes. */
    static final int CLUSTER = 8;

    static final int POINT = 0;
    static final int SEGMENT = 1;
    /** Centre, then three half edges at right angles. */
    static final int BOX = 2;
    /** Corners in any order. */
    static final int HULL = 3;
    /** Convex solid of revolution: centre, unit axis, then corners (h, r) of its half section. */
    static final int ROUND = 4;
    /**
     * What a convex figure sweeps through part of a turn, and the chords across it: centre, unit axis, unit direction
     * to its middle, unit direction round, cosine and sine of half the turn (at most a quarter), then corners (h, r).
     */
    static final int SECTOR = 5;

    /** Where the corners of a {@link #SECTOR} begin. */
    static final int SECTOR_CORNERS = 14;

    /** Kind of each piece. */
    final byte[] kind;
    /** Where each piece's numbers start in {@link #numbers}; one more entry than pieces. */
    final int[] first;
    /** All pieces' coordinates. */
    final double[] numbers;
    /** Rounding radius of each piece. */
    final double[] rounding;
    /** Bounding ball of each piece's core: x, y, z, radius. */
    final double[] ball;

    /** Tree: first child of each node, or ~piece for a leaf. The second child is in {@link #second}. */
    final int[] child;

    final int[] second;
    /** The node over everything. */
    final int root;
    /**
     * The node over pieces that lie inside the others and tell only how deep something digs, or -1. While the solid
     * touches nothing they change no distance.
     */
    final int deepRoot;
    /** Box of each node: centre, half sizes, three unit axes at right angles, and the radius it is grown by. */
    final double[] box;
    /** Convex piece that holds everything under a node and is exact where the true surface is outside, or -1. */
    final int[] guard;
    /** For each guard piece, where its true edges start in {@link #trueEdges}: h0, r0, h1, r1 each; else -1. */
    final int[] trueFirst;

    final int[] trueCount;
    final double[] trueEdges;

    /** Leaves under nodes with at most {@link #CLUSTER} of them and no guard: where they start in {@link #clustered}. */
    final int[] clusterFirst;

    /** How many pieces a node has when they are few and unguarded, else 0. */
    final int[] clusterCount;

    final int[] clustered;
    /**
     * Corners of all pieces under a node with {@link #clusterCount} of more than one, each once, where those are points,
     * segments and hulls of one rounding radius: where its three numbers each start in {@link #spots}, else -1.
     */
    final int[] spotFirst;

    /** Where they end. */
    final int[] spotEnd;

    final double[] spots;
    /** Whether each piece is a guard. */
    private final boolean[] guarding;

    /** The closed parts of its meshes. */
    final ClosedMesh[] closed;
    /** A spot inside each connected member, with the radius of a ball round it that the member holds: 4 numbers. */
    final double[] inner;

    private final double sagitta;
    private final int leaves;
    /** A number that depends on the geometry alone: it orders pairs, the same way on every run. */
    final long mark;

    private final Spot lowest;
    private final Spot highest;
    /** Whether the solid is a single segment or spot; then where it starts, how it runs, and its squared length. */
    final boolean bar;

    final double barX;
    final double barY;
    final double barZ;
    final double barUx;
    final double barUy;
    final double barUz;
    final double barSquared;
    final double barInverse;
    final double barRadius;
    final double centreX;
    final double centreY;
    final double centreZ;
    final double radius;

    Solid(SolidMaker made) {
        this.kind = made.kinds();
        this.first = made.firsts();
        this.numbers = made.numbers();
        this.rounding = made.roundings();
        this.ball = made.balls();
        this.child = made.child();
        this.second = made.second();
        this.box = made.boxes();
        this.root = made.root();
        this.deepRoot = made.deepRoot();
        this.guard = made.guards();
        this.trueFirst = made.trueFirsts();
        this.trueCount = made.trueCounts();
        this.trueEdges = made.trueEdges();
        this.closed = made.closed();
        this.inner = made.inner();
        this.sagitta = made.sagitta();
        this.guarding = new boolean[kind.length];
        for (int g : guard) {
            if (g >= 0) {
                guarding[g] = true;
            }
        }
        this.clusterFirst = new int[child.length];
        this.clusterCount = new int[child.length];
        this.clustered = new int[kind.length];
        int listed = cluster(root, 0);
        if (deepRoot >= 0) {
            cluster(deepRoot, listed);
        }
        this.spotFirst = new int[child.length];
        this.spotEnd = new int[child.length];
        this.spots = spots();
        int count = 0;
        for (int c : child) {
            if (c < 0) {
                count++;
            }
        }
        this.leaves = count;
        long hash = 17;
        for (double x : numbers) {
            hash = hash * 0x9E3779B97F4A7C15L + Double.doubleToLongBits(x);
            hash ^= hash >>> 29;
        }
        for (double r : rounding) {
            hash = hash * 0x9E3779B97F4A7C15L + Double.doubleToLongBits(r);
            hash ^= hash >>> 29;
        }
        this.mark = hash;
        int only = ~child[root];
        this.bar = only >= 0 && kind[only] <= SEGMENT && deepRoot < 0;
        int start = bar ? first[only] : 0;
        int stop = bar && kind[only] == SEGMENT ? start + 3 : start;
        this.barX = numbers[start];
        this.barY = numbers[start + 1];
        this.barZ = numbers[start + 2];
        this.barUx = numbers[stop] - barX;
        this.barUy = numbers[stop + 1] - barY;
        this.barUz = numbers[stop + 2] - barZ;
        this.barSquared = barUx * barUx + barUy * barUy + barUz * barUz;
        this.barInverse = barSquared > 0 ? 1 / barSquared : 0;
        this.barRadius = bar ? rounding[only] : 0;
        double[] extent = made.extent();
        this.lowest = new Spot(extent[0], extent[1], extent[2]);
        this.highest = new Spot(extent[3], extent[4], extent[5]);
        this.centreX = 0.5 * (extent[0] + extent[3]);
        this.centreY = 0.5 * (extent[1] + extent[4]);
        this.centreZ = 0.5 * (extent[2] + extent[5]);
        double far = 0;
        for (int p = 0; p < kind.length; p++) {
            double dx = ball[4 * p] - centreX;
            double dy = ball[4 * p + 1] - centreY;
            double dz = ball[4 * p + 2] - centreZ;
            far = Math.max(far, Math.sqrt(dx * dx + dy * dy + dz * dz) + ball[4 * p + 3] + rounding[p]);
        }
        double hx = extent[3] - centreX;
        double hy = extent[4] - centreY;
        double hz = extent[5] - centreZ;
        double corner = Math.sqrt(hx * hx + hy * hy + hz * hz);
        this.radius = Math.min(far, corner);
    }

    /**
     * Returns the solid of a shape.
     *
     * <p>Cost: milliseconds for most; seconds for a mesh of several hundred thousand triangles.
     *
     * @throws IllegalArgumentException if the shape cannot be made (see {@link #whyNot}), saying what is wrong, by
     *     how much, and what to do
     */
    public static Solid of(Shape shape) {
        whyNot(shape).ifPresent(why -> {
            throw new IllegalArgumentException(why);
        });
        SolidMaker maker = new SolidMaker();
        maker.add(shape);
        return maker.make();
    }

    /**
     * Returns the solid of a round line: a capsule from each spot to the next. The same solid as that of a tube with
     * sharp corners through them, made some twenty times faster, for a line whose shape changes all the time.
     *
     * @param spots x, y, z of each spot in order, body frame, mm; not modified and not kept
     * @param count how many of them are the line's, two or more; no two neighbours may be the same
     * @param radiusMm of the line, more than zero
     * @throws IllegalArgumentException if there are fewer than two spots, or the radius is not more than zero
     */
    public static Solid chain(double[] spots, int count, double radiusMm) {
        if (count < 2 || spots.length < 3 * count || !(radiusMm > 0)) {
            throw new IllegalArgumentException("a line has two spots or more and a radius above zero: " + count
                    + " spots in an array of " + spots.length + ", radius " + radiusMm);
        }
        return new SolidMaker().chain(spots, count, radiusMm);
    }

    /**
     * Returns why no solid can be made of the shape, or nothing when one can: a bend that does not fit between its
     * neighbours, an outline that crosses itself, a hole outside its plate, a rounding larger than its profile
     * allows.
     */
    public static Optional<String> whyNot(Shape shape) {
        if (shape instanceof Shape.Tube tube) {
            return CentreLine.whyNot(tube);
        }
        if (shape instanceof Shape.Plate plate) {
            return Figure.whyNot(plate);
        }
        if (shape instanceof Shape.Turned turned) {
            return Profile.whyNot(turned);
        }
        if (shape instanceof Shape.Group group) {
            for (int i = 0; i < group.members().size(); i++) {
                int number = i + 1;
                Optional<String> why = whyNot(group.members().get(i)).map(w -> "member " + number + ": " + w);
                if (why.isPresent()) {
                    return why;
                }
            }
        }
        return Optional.empty();
    }

    /** Returns the centre of the bounding ball, body frame, mm. */
    public Spot centre() {
        return new Spot(centreX, centreY, centreZ);
    }

    /** Returns the radius of the bounding ball round {@link #centre()}, mm. */
    public double radiusMm() {
        return radius;
    }

    /** Returns the corner of the bounding box with the least coordinates, body frame, mm. */
    public Spot lowest() {
        return lowest;
    }

    /** Returns the corner of the bounding box with the greatest coordinates, body frame, mm. */
    public Spot highest() {
        return highest;
    }

    /** Returns how many convex pieces the solid has. */
    public int pieces() {
        return leaves;
    }

    /** Returns by how much the solid may exceed the true shape, mm: zero where its pieces are exact. */
    public double sagittaMm() {
        return sagitta;
    }

    /** Whether a piece only stands for those under some node. */
    boolean guards(int piece) {
        return guarding[piece];
    }

    /** How large a node is, for choosing which to take apart. */
    double size(int node) {
        int at = BOX_NUMBERS * node;
        return box[at + 3] + box[at + 4] + box[at + 5];
    }

    /** Lists the leaves under a node in tree order; returns where the next goes. */
    private int cluster(int node, int at) {
        clusterFirst[node] = at;
        if (child[node] < 0) {
            clustered[at] = node;
            clusterCount[node] = 1;
            return at + 1;
        }
        int end = cluster(second[node], cluster(child[node], at));
        boolean whole = clusterCount[child[node]] > 0 && clusterCount[second[node]] > 0 && guard[node] < 0;
        clusterCount[node] = whole && end - at <= CLUSTER ? end - at : 0;
        return end;
    }

    private double[] spots() {
        double[] made = new double[48];
        int end = 0;
        for (int node = 0; node < child.length; node++) {
            spotFirst[node] = -1;
            if (clusterCount[node] < 2) {
                continue;
            }
            int start = end;
            int from = clusterFirst[node];
            int to = from + clusterCount[node];
            double radius = rounding[~child[clustered[from]]];
            boolean plain = true;
            for (int k = from; k < to && plain; k++) {
                int piece = ~child[clustered[k]];
                plain = rounding[piece] == radius && (kind[piece] <= SEGMENT || kind[piece] == HULL);
                for (int at = first[piece]; plain && at < first[piece + 1]; at += 3) {
                    if (end + 3 > made.length) {
                        made = Arrays.copyOf(made, 2 * made.length);
                    }
                    System.arraycopy(numbers, at, made, end, 3);
                    end = isAmong(made, start, end) ? end : end + 3;
                }
            }
            if (plain) {
                spotFirst[node] = start;
                spotEnd[node] = end;
            } else {
                end = start;
            }
        }
        return Arrays.copyOf(made, end);
    }

    /** Whether the three numbers at {@code end} stand among those from {@code start} already. */
    private static boolean isAmong(double[] of, int start, int end) {
        for (int at = start; at < end; at += 3) {
            if (of[at] == of[end] && of[at + 1] == of[end + 1] && of[at + 2] == of[end + 2]) {
                return true;
            }
        }
        return false;
    }
}
