package daylight.survey;

import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;

/**
 * Finds rough places for all points from the readings alone, one point after the other: where three readings to
 * points already placed meet. A plane is a coordinate, a height, a mirror; a sphere is a taped distance; three of
 * them meet in one place or in two that are mirror images. Every choice of three is tried and the place that suits
 * all the readings best is taken, with a cost that a gross error cannot dominate, so that one blunder does not spoil
 * the start. Where both mirror images suit as well, a {@link #decisions() decision} is noted that the caller may turn
 * round.
 *
 * <p>A point with too few readings to placed ones is put where those it has are met, in a direction drawn from a
 * seeded generator; the adjustment moves it, and another variant draws another.
 */
final class StartingPlaces {
    /** Readings are met within so much when a start is judged, mm: neighbours are rough themselves. */
    private static final double ROUGH_MM = 3;
    /** The same for angles, radians. */
    private static final double ROUGH_RAD = 0.01;
    /** A reading off by more than so many times the roughness counts no further. */
    private static final double GROSS = 8;
    /** Two places nearer than this, mm, are one choice. */
    private static final double ONE_PLACE_MM = 10;
    /** Two places whose costs differ by less are both possible. */
    private static final double EVEN = 4;
    /** How far a point may lie below the floor before its mirror image above is taken first, mm. */
    private static final double BELOW_FLOOR_MM = 20;
    /** Choices of three readings tried for one point. */
    private static final int MOST_TRIPLES = 84;

    /** The same when only the mirror image of a place is looked for. */
    private static final int MIRROR_TRIPLES = 10;

    /** Candidates of one point that are moved to fit; the rest are only looked at. */
    private static final int MOST_POLISHED = 6;
    /** Three readings off grossly: no place nearby suits them. */
    private static final double HOPELESS = 3 * GROSS * GROSS;

    private static final int POLISH_STEPS = 12;
    private static final int DIRECTIONS = 14;
    private static final double TYPICAL_MM = 400;

    private final Readings readings;
    private final List<Optional<Spot>> guesses;
    private final boolean[] placed;
    /** Rows that say nothing: those found wrong, when the other place of a point is looked for. */
    private boolean[] leftOut;

    private final int[][] rowsOf;

    /** Rows of each point's neighbours, to know whose standing changes when it is placed. */
    private final int[][] neighbours;

    private final double[] standings;
    /** Rows of the point in hand whose other points are placed, and how many. */
    private final int[] usableRows;

    private int usableCount;

    private final List<double[]> candidates = new ArrayList<>();
    private final List<Meets> meets = new ArrayList<>();
    private int decisions;

    /** A reading as a locus of the point that is being placed: a plane n.p = d or a sphere of radius d about n. */
    private record Meets(boolean sphere, double nx, double ny, double nz, double d) {}

    StartingPlaces(Network network, Readings readings) {
        this.readings = readings;
        this.guesses = new ArrayList<>();
        for (SurveyPoint p : network.points()) {
            guesses.add(p instanceof SurveyPoint.Sought sought ? sought.guess() : Optional.empty());
        }
        this.placed = new boolean[readings.pointCount];
        int[] count = new int[readings.pointCount];
        for (int[] points : readings.pointsOf) {
            for (int p : points) {
                count[p]++;
            }
        }
        this.rowsOf = new int[readings.pointCount][];
        for (int p = 0; p < rowsOf.length; p++) {
            rowsOf[p] = new int[count[p]];
        }
        Arrays.fill(count, 0);
        for (int i = 0; i < readings.rows; i++) {
            for (int p : readings.pointsOf[i]) {
                rowsOf[p][count[p]++] = i;
            }
        }
        this.neighbours = neighbours();
        this.standings = new double[readings.pointCount];
        this.leftOut = new boolean[readings.rows];
        this.usableRows = new int[Arrays.stream(count).max().orElse(0)];
    }

    private int[][] neighbours() {
        int[][] all = new int[readings.pointCount][];
        for (int p = 0; p < all.length; p++) {
            BitSet near = new BitSet();
            for (int i : rowsOf[p]) {
                for (int other : readings.pointsOf[i]) {
                    near.set(other);
                }
            }
            all[p] = near.stream().toArray();
        }
        return all;
    }

    /** How often the last placing had two places to choose from. */
    int decisions() {
        return decisions;
    }

    /**
     * Places all points; the places are left in the readings.
     *
     * @param variant 0 first; other numbers draw other directions where readings leave one free
     * @param turned the decisions to take the other way
     */
    void place(int variant, BitSet turned) {
        SplittableRandom random = new SplittableRandom(0x5eedL + variant);
        decisions = 0;
        for (int p = 0; p < placed.length; p++) {
            placed[p] = readings.unknownOf[p] < 0;
        }
        for (int p : readings.soughtPoint) {
            standings[p] = standing(p);
        }
        for (int left = readings.soughtPoint.length; left > 0; left--) {
            int next = -1;
            for (int p : readings.soughtPoint) {
                if (!placed[p] && (next < 0 || standings[p] > standings[next])) {
                    next = p;
                }
            }
            placeOne(next, random, turned);
            placed[next] = true;
            for (int p : neighbours[next]) {
                if (!placed[p]) {
                    standings[p] = standing(p);
                }
            }
        }
    }

    /** How ready a point is to be placed: by what its readings to placed points fix, then by how many they are. */
    private double standing(int p) {
        int usable = gather(p);
        int fixes = Math.min(
                3, planeRank() + (int) meets.stream().filter(Meets::sphere).count() + usable - meets.size());
        double standing = fixes < 3 && guesses.get(p).isPresent() ? 2.5 : fixes;
        return standing * 1000 + planeRank() * 100 + Math.min(usable, 99) + 0.001 * Math.min(rowsOf[p].length, 900);
    }

    /** Collects what the placed points say of p; returns the number of readings, those that are no locus included. */
    private int gather(int p) {
        meets.clear();
        usableCount = 0;
        for (int i : rowsOf[p]) {
            if (!leftOut[i] && usable(i, p)) {
                usableRows[usableCount++] = i;
                locus(i, p).ifPresent(meets::add);
            }
        }
        return usableCount;
    }

    private boolean usable(int i, int p) {
        for (int other : readings.pointsOf[i]) {
            if (other != p && !placed[other]) {
                return false;
            }
        }
        return true;
    }

    /** A row is recognised by what it does at two trial places, so that new kinds of reading need nothing here. */
    private Optional<Meets> locus(int i, int p) {
        int at = 0;
        while (readings.pointsOf[i][at] != p) {
            at++;
        }
        double[] places = readings.places;
        set(p, 0, 0, 0);
        double here = readings.value(i);
        double gx = readings.gradient(i)[3 * at];
        double gy = readings.gradient(i)[3 * at + 1];
        double gz = readings.gradient(i)[3 * at + 2];
        set(p, 1370, -910, 1730);
        double there = readings.value(i);
        double[] g = readings.gradient(i);
        double bent = Math.abs(g[3 * at] - gx) + Math.abs(g[3 * at + 1] - gy) + Math.abs(g[3 * at + 2] - gz);
        double size = Math.sqrt(gx * gx + gy * gy + gz * gz);
        double straight = here + 1370 * gx - 910 * gy + 1730 * gz;
        if (bent < 1e-9 && Math.abs(straight - there) < 1e-6 && size > 0.1) {
            return Optional.of(new Meets(false, gx / size, gy / size, gz / size, (readings.reads[i] - here) / size));
        }
        if (readings.pointsOf[i].length == 2 && readings.reads[i] > 0) {
            int c = 3 * readings.pointsOf[i][1 - at];
            double there2 = distance(places, c, 1370, -910, 1730);
            double here2 = distance(places, c, 0, 0, 0);
            if (Math.abs(there - there2) < 1e-6 && Math.abs(here - here2) < 1e-6) {
                return Optional.of(new Meets(true, places[c], places[c + 1], places[c + 2], readings.reads[i]));
            }
        }
        return Optional.empty();
    }

    private static double distance(double[] places, int c, double x, double y, double z) {
        double dx = x - places[c];
        double dy = y - places[c + 1];
        double dz = z - places[c + 2];
        return Math.sqrt(dx * dx + dy * dy + dz * dz);
    }

    /** Rank of the planes' normals, 0 to 3. */
    private int planeRank() {
        double ax = 0;
        double ay = 0;
        double az = 0;
        double bx = 0;
        double by = 0;
        double bz = 0;
        int rank = 0;
        for (Meets m : meets) {
            if (m.sphere) {
                continue;
            }
            if (rank == 0) {
                ax = m.nx;
                ay = m.ny;
                az = m.nz;
                rank = 1;
            } else if (rank == 1) {
                bx = ay * m.nz - az * m.ny;
                by = az * m.nx - ax * m.nz;
                bz = ax * m.ny - ay * m.nx;
                if (bx * bx + by * by + bz * bz > 0.01) {
                    rank = 2;
                }
            } else if (Math.abs(bx * m.nx + by * m.ny + bz * m.nz) > 0.1) {
                return 3;
            }
        }
        return rank;
    }

    private void placeOne(int p, SplittableRandom random, BitSet turned) {
        int usable = gather(p);
        candidates.clear();
        guesses.get(p).ifPresent(guess -> candidates.add(new double[] {guess.x(), guess.y(), guess.z()}));
        triples(MOST_TRIPLES);
        if (candidates.isEmpty()) {
            double[] middle = middle(p);
            int tries = usable - meets.size() > 0 ? DIRECTIONS : 2;
            for (int k = 0; k < tries; k++) {
                double z = 2 * random.nextDouble() - 1;
                double angle = 2 * Math.PI * random.nextDouble();
                double r = Math.sqrt(1 - z * z);
                candidates.add(new double[] {
                    middle[0] + TYPICAL_MM * r * Math.cos(angle),
                    middle[1] + TYPICAL_MM * r * Math.sin(angle),
                    middle[2] + TYPICAL_MM * z
                });
            }
        }
        best(p);
        double[] cost = new double[candidates.size()];
        int best = 0;
        for (int k = 0; k < cost.length; k++) {
            polish(p, candidates.get(k));
            cost[k] = cost(p, candidates.get(k));
            if (cost[k] < cost[best]) {
                best = k;
            }
        }
        int rival = -1;
        for (int k = 0; k < cost.length; k++) {
            if (cost[k] < cost[best] + EVEN
                    && apart(candidates.get(k), candidates.get(best)) > ONE_PLACE_MM
                    && (rival < 0 || cost[k] < cost[rival])) {
                rival = k;
            }
        }
        if (rival >= 0) {
            if (prefers(p, candidates.get(rival), candidates.get(best)) != turned.get(decisions)) {
                best = rival;
            }
            decisions++;
        }
        double[] chosen = candidates.get(best);
        set(p, chosen[0], chosen[1], chosen[2]);
    }

    /** Keeps the most promising candidates, those near a better one left out; a guess always stays. */
    private void best(int p) {
        if (candidates.size() <= MOST_POLISHED) {
            return;
        }
        int first = guesses.get(p).isPresent() ? 1 : 0;
        List<double[]> rough = new ArrayList<>();
        for (double[] at : candidates.subList(first, candidates.size())) {
            rough.add(new double[] {at[0], at[1], at[2], cost(p, at)});
        }
        rough.sort((a, b) -> Double.compare(a[3], b[3]));
        candidates.subList(first, candidates.size()).clear();
        for (double[] at : rough) {
            boolean near = candidates.size() > MOST_POLISHED;
            for (int k = first; k < candidates.size() && !near; k++) {
                near = apart(candidates.get(k), at) < 2 * ONE_PLACE_MM;
            }
            if (!near) {
                candidates.add(new double[] {at[0], at[1], at[2]});
            }
        }
    }

    /** Of two places that fit: the nearer to the guess, or without one that above the floor. */
    private boolean prefers(int p, double[] a, double[] b) {
        if (guesses.get(p).isPresent()) {
            Spot guess = guesses.get(p).get();
            double[] g = {guess.x(), guess.y(), guess.z()};
            return apart(a, g) < apart(b, g);
        }
        return b[2] < -BELOW_FLOOR_MM && a[2] > b[2];
    }

    /**
     * Returns the other place that suits the readings of a point as well as the one it has, all others staying where
     * they are; empty where there is none, or where a guess decides.
     *
     * @param wrong rows that were found wrong: a wrong tape would suit a wrong place as badly as the right one
     */
    Optional<Spot> mirrorImage(int p, boolean[] wrong) {
        if (guesses.get(p).isPresent()) {
            return Optional.empty();
        }
        Arrays.fill(placed, true);
        leftOut = wrong;
        double[] here = Arrays.copyOfRange(readings.places, 3 * p, 3 * p + 3);
        gather(p);
        candidates.clear();
        triples(MIRROR_TRIPLES);
        double least = cost(p, here);
        Optional<Spot> found = Optional.empty();
        for (double[] candidate : candidates) {
            if (apart(candidate, here) < ONE_PLACE_MM || cost(p, candidate) > least + HOPELESS) {
                continue;
            }
            polish(p, candidate);
            if (apart(candidate, here) > ONE_PLACE_MM && cost(p, candidate) < least + EVEN) {
                found = Optional.of(new Spot(candidate[0], candidate[1], candidate[2]));
                break;
            }
        }
        set(p, here[0], here[1], here[2]);
        leftOut = new boolean[readings.rows];
        return found;
    }

    private double[] middle(int p) {
        double[] sum = new double[3];
        int count = 0;
        for (int i : rowsOf[p]) {
            for (int other : readings.pointsOf[i]) {
                if (other != p && placed[other]) {
                    for (int k = 0; k < 3; k++) {
                        sum[k] += readings.places[3 * other + k];
                    }
                    count++;
                }
            }
        }
        for (int k = 0; k < 3 && count > 0; k++) {
            sum[k] /= count;
        }
        return sum;
    }

    private void triples(int most) {
        int n = meets.size();
        int total = n * (n - 1) * (n - 2) / 6;
        int stride = Math.max(1, (total + most - 1) / most);
        int count = 0;
        for (int i = 0; i < n; i++) {
            for (int j = i + 1; j < n; j++) {
                for (int k = j + 1; k < n; k++) {
                    if (count++ % stride == 0) {
                        meet(meets.get(i), meets.get(j), meets.get(k));
                    }
                }
            }
        }
    }

    /** Adds the places where three loci meet: none, one or two. */
    private void meet(Meets a, Meets b, Meets c) {
        Meets[] all = {a, b, c};
        int baseIndex = a.sphere ? 0 : b.sphere ? 1 : 2;
        Meets base = all[baseIndex];
        double[][] planes = new double[3][];
        int count = 0;
        for (int i = 0; i < 3; i++) {
            Meets m = all[i];
            if (!m.sphere) {
                planes[count++] = new double[] {m.nx, m.ny, m.nz, m.d};
            } else if (i != baseIndex) {
                // The circle in which two spheres meet lies in a plane at right angles to the line of centres.
                double nx = m.nx - base.nx;
                double ny = m.ny - base.ny;
                double nz = m.nz - base.nz;
                double length = Math.sqrt(nx * nx + ny * ny + nz * nz);
                if (length < ONE_PLACE_MM) {
                    return;
                }
                double along = (base.d * base.d - m.d * m.d + length * length) / (2 * length);
                nx /= length;
                ny /= length;
                nz /= length;
                double d = nx * base.nx + ny * base.ny + nz * base.nz + along;
                planes[count++] = new double[] {nx, ny, nz, d};
            }
        }
        if (count == 3) {
            threePlanes(planes);
        } else {
            lineAndSphere(planes[0], planes[1], base);
        }
    }

    private void threePlanes(double[][] p) {
        double[] cross = cross(p[1], p[2]);
        double volume = p[0][0] * cross[0] + p[0][1] * cross[1] + p[0][2] * cross[2];
        if (Math.abs(volume) < 0.01) {
            return;
        }
        double[] c20 = cross(p[2], p[0]);
        double[] c01 = cross(p[0], p[1]);
        double[] at = new double[3];
        for (int k = 0; k < 3; k++) {
            at[k] = (p[0][3] * cross[k] + p[1][3] * c20[k] + p[2][3] * c01[k]) / volume;
        }
        candidates.add(at);
    }

    private void lineAndSphere(double[] p, double[] q, Meets sphere) {
        double[] along = cross(p, q);
        double square = along[0] * along[0] + along[1] * along[1] + along[2] * along[2];
        if (square < 1e-6) {
            return;
        }
        // The place of the line nearest the centre: offsets a, b from the two planes, solved in their normals.
        double cosine = p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
        double dp = p[3] - (p[0] * sphere.nx + p[1] * sphere.ny + p[2] * sphere.nz);
        double dq = q[3] - (q[0] * sphere.nx + q[1] * sphere.ny + q[2] * sphere.nz);
        double a = (dp - cosine * dq) / square;
        double b = (dq - cosine * dp) / square;
        double x = a * p[0] + b * q[0];
        double y = a * p[1] + b * q[1];
        double z = a * p[2] + b * q[2];
        double half = Math.sqrt(Math.max(0, sphere.d * sphere.d - x * x - y * y - z * z) / square);
        for (int side = -1; side <= 1; side += 2) {
            candidates.add(new double[] {
                sphere.nx + x + side * half * along[0],
                sphere.ny + y + side * half * along[1],
                sphere.nz + z + side * half * along[2]
            });
        }
    }

    private static double[] cross(double[] a, double[] b) {
        return new double[] {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
    }

    /** Moves one point until its readings to placed points are met as well as they can be, gross errors held back. */
    private void polish(int p, double[] at) {
        double damping = 1e-3;
        double[] normal = new double[6];
        double[] slope = new double[3];
        double[] trial = new double[3];
        double here = smooth(p, at, normal, slope);
        for (int step = 0; step < POLISH_STEPS; step++) {
            double scale = Math.max(normal[0], Math.max(normal[2], normal[5]));
            if (scale == 0) {
                return;
            }
            double[] move = solve(normal, slope, damping * scale);
            for (int k = 0; k < 3; k++) {
                trial[k] = at[k] + move[k];
            }
            double[] normalThere = new double[6];
            double[] slopeThere = new double[3];
            double there = smooth(p, trial, normalThere, slopeThere);
            if (there < here) {
                boolean done = here - there < 1e-6 * here;
                here = there;
                System.arraycopy(trial, 0, at, 0, 3);
                normal = normalThere;
                slope = slopeThere;
                damping = Math.max(damping * 0.1, 1e-9);
                if (done) {
                    return;
                }
            } else {
                damping *= 10;
            }
        }
    }

    /** A robust sum that grows like |t|, with its normal matrix (lower triangle) and slope. */
    private double smooth(int p, double[] at, double[] normal, double[] slope) {
        set(p, at[0], at[1], at[2]);
        double sum = 0;
        for (int r = 0; r < usableCount; r++) {
            int i = usableRows[r];
            double residual = readings.residual(i);
            double rough = rough(i);
            double t = residual / rough;
            double root = Math.sqrt(1 + t * t);
            sum += 2 * (root - 1);
            double weight = 1 / (root * rough * rough);
            int[] points = readings.pointsOf[i];
            double[] g = readings.gradient(i);
            for (int k = 0; k < points.length; k++) {
                if (points[k] == p) {
                    double gx = g[3 * k];
                    double gy = g[3 * k + 1];
                    double gz = g[3 * k + 2];
                    normal[0] += weight * gx * gx;
                    normal[1] += weight * gy * gx;
                    normal[2] += weight * gy * gy;
                    normal[3] += weight * gz * gx;
                    normal[4] += weight * gz * gy;
                    normal[5] += weight * gz * gz;
                    slope[0] += weight * residual * gx;
                    slope[1] += weight * residual * gy;
                    slope[2] += weight * residual * gz;
                }
            }
        }
        return sum;
    }

    /** Solves the damped 3 x 3 normal equations; damping is above zero, so there is always an answer. */
    private static double[] solve(double[] m, double[] slope, double damping) {
        double a = m[0] + damping;
        double l10 = m[1] / a;
        double b = m[2] + damping - l10 * m[1];
        double l20 = m[3] / a;
        double t = m[4] - l20 * m[1];
        double l21 = t / b;
        double c = m[5] + damping - l20 * m[3] - l21 * t;
        double y0 = -slope[0];
        double y1 = -slope[1] - l10 * y0;
        double y2 = -slope[2] - l20 * y0 - l21 * y1;
        double z = y2 / c;
        double y = y1 / b - l21 * z;
        return new double[] {y0 / a - l10 * y - l20 * z, y, z};
    }

    private double cost(int p, double[] at) {
        set(p, at[0], at[1], at[2]);
        double sum = 0;
        for (int r = 0; r < usableCount; r++) {
            double t = readings.residual(usableRows[r]) / rough(usableRows[r]);
            sum += Math.min(t * t, GROSS * GROSS);
        }
        return sum;
    }

    private double rough(int i) {
        double rough = readings.equations[i].quantity() == Equation.Quantity.LENGTH ? ROUGH_MM : ROUGH_RAD;
        return Math.max(rough, readings.u[i]);
    }

    private void set(int p, double x, double y, double z) {
        readings.places[3 * p] = x;
        readings.places[3 * p + 1] = y;
        readings.places[3 * p + 2] = z;
    }

    private static double apart(double[] a, double[] b) {
        double dx = a[0] - b[0];
        double dy = a[1] - b[1];
        double dz = a[2] - b[2];
        return Math.sqrt(dx * dx + dy * dy + dz * dz);
    }
}
