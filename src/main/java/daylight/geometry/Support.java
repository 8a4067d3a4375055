package daylight.geometry;

/**
 * The furthest spot of a convex core in a direction. Mutable, one per engine: the answer is in {@link #x},
 * {@link #y}, {@link #z}.
 */
final class Support {
    /** Directions whose sine to the axis, squared, is below this need their part across it cleaned. */
    private static final double NEAR_AXIS = 1e-4;

    double x;
    double y;
    double z;

    /** Puts the spot of a solid's piece that lies furthest in a direction (body frame, any length) here. */
    void of(Solid solid, int piece, double dx, double dy, double dz) {
        of(solid.kind[piece], solid.numbers, solid.first[piece], solid.first[piece + 1], dx, dy, dz);
    }

    void of(int kind, double[] n, int from, int to, double dx, double dy, double dz) {
        switch (kind) {
            case Solid.POINT -> set(n, from);
            case Solid.SEGMENT -> {
                double along = dx * (n[from + 3] - n[from])
                        + dy * (n[from + 4] - n[from + 1])
                        + dz * (n[from + 5] - n[from + 2]);
                set(n, along > 0 ? from + 3 : from);
            }
            case Solid.BOX -> box(n, from, dx, dy, dz);
            case Solid.HULL -> {
                int best = from;
                double most = dx * n[from] + dy * n[from + 1] + dz * n[from + 2];
                for (int i = from + 3; i < to; i += 3) {
                    double value = dx * n[i] + dy * n[i + 1] + dz * n[i + 2];
                    if (value > most) {
                        most = value;
                        best = i;
                    }
                }
                set(n, best);
            }
            case Solid.SECTOR -> sector(n, from, to, dx, dy, dz);
            default -> round(n, from, to, dx, dy, dz);
        }
    }

    private void set(double[] n, int at) {
        x = n[at];
        y = n[at + 1];
        z = n[at + 2];
    }

    private void box(double[] n, int at, double dx, double dy, double dz) {
        double sx = dx * n[at + 3] + dy * n[at + 4] + dz * n[at + 5] < 0 ? -1 : 1;
        double sy = dx * n[at + 6] + dy * n[at + 7] + dz * n[at + 8] < 0 ? -1 : 1;
        double sz = dx * n[at + 9] + dy * n[at + 10] + dz * n[at + 11] < 0 ? -1 : 1;
        x = n[at] + sx * n[at + 3] + sy * n[at + 6] + sz * n[at + 9];
        y = n[at + 1] + sx * n[at + 4] + sy * n[at + 7] + sz * n[at + 10];
        z = n[at + 2] + sx * n[at + 5] + sy * n[at + 8] + sz * n[at + 11];
    }

    private void round(double[] n, int from, int to, double dx, double dy, double dz) {
        double ux = n[from + 3];
        double uy = n[from + 4];
        double uz = n[from + 5];
        double s = dx * ux + dy * uy + dz * uz;
        double px = dx - s * ux;
        double py = dy - s * uy;
        double pz = dz - s * uz;
        double mm = px * px + py * py + pz * pz;
        if (mm < NEAR_AXIS * s * s) {
            // Nearly along the axis the difference has lost its digits and leans out of the disc: once more.
            double t = px * ux + py * uy + pz * uz;
            px -= t * ux;
            py -= t * uy;
            pz -= t * uz;
            mm = px * px + py * py + pz * pz;
        }
        double m = Math.sqrt(mm);
        int best = from + 6;
        double most = s * n[best] + m * n[best + 1];
        for (int i = from + 8; i < to; i += 2) {
            double value = s * n[i] + m * n[i + 1];
            if (value > most) {
                most = value;
                best = i;
            }
        }
        double h = n[best];
        // Straight along the axis the whole end face is furthest; its middle stands for it.
        double r = m > 0 ? n[best + 1] / m : 0;
        x = n[from] + h * ux + r * px;
        y = n[from + 1] + h * uy + r * py;
        z = n[from + 2] + h * uz + r * pz;
    }

    private void sector(double[] n, int from, int to, double dx, double dy, double dz) {
        double s = dx * n[from + 3] + dy * n[from + 4] + dz * n[from + 5];
        double a = dx * n[from + 6] + dy * n[from + 7] + dz * n[from + 8];
        double b = dx * n[from + 9] + dy * n[from + 10] + dz * n[from + 11];
        double cos = n[from + 12];
        double sin = n[from + 13];
        double m = Math.sqrt(a * a + b * b);
        double ahead;
        double round;
        double c;
        if (a >= m * cos) {
            c = m;
            ahead = m > 0 ? a / m : 1;
            round = m > 0 ? b / m : 0;
        } else {
            ahead = cos;
            round = b < 0 ? -sin : sin;
            c = a * ahead + b * round;
        }
        int best = from + Solid.SECTOR_CORNERS;
        double most = s * n[best] + c * n[best + 1];
        for (int i = best + 2; i < to; i += 2) {
            double value = s * n[i] + c * n[i + 1];
            if (value > most) {
                most = value;
                best = i;
            }
        }
        double h = n[best];
        double e = n[best + 1] * ahead;
        double t = n[best + 1] * round;
        x = n[from] + h * n[from + 3] + e * n[from + 6] + t * n[from + 9];
        y = n[from + 1] + h * n[from + 4] + e * n[from + 7] + t * n[from + 10];
        z = n[from + 2] + h * n[from + 5] + e * n[from + 8] + t * n[from + 11];
    }

    /** Returns the greatest d.x over a piece's core. */
    double reach(Solid solid, int piece, double dx, double dy, double dz) {
        return reach(solid.kind[piece], solid.numbers, solid.first[piece], solid.first[piece + 1], dx, dy, dz);
    }

    double reach(int kind, double[] n, int from, int to, double dx, double dy, double dz) {
        return switch (kind) {
            case Solid.POINT -> dx * n[from] + dy * n[from + 1] + dz * n[from + 2];
            case Solid.BOX ->
                dx * n[from]
                        + dy * n[from + 1]
                        + dz * n[from + 2]
                        + Math.abs(dx * n[from + 3] + dy * n[from + 4] + dz * n[from + 5])
                        + Math.abs(dx * n[from + 6] + dy * n[from + 7] + dz * n[from + 8])
                        + Math.abs(dx * n[from + 9] + dy * n[from + 10] + dz * n[from + 11]);
            case Solid.ROUND -> {
                double s = dx * n[from + 3] + dy * n[from + 4] + dz * n[from + 5];
                double px = dx - s * n[from + 3];
                double py = dy - s * n[from + 4];
                double pz = dz - s * n[from + 5];
                double m = Math.sqrt(px * px + py * py + pz * pz);
                double most = Double.NEGATIVE_INFINITY;
                for (int i = from + 6; i < to; i += 2) {
                    most = Math.max(most, s * n[i] + m * n[i + 1]);
                }
                yield dx * n[from] + dy * n[from + 1] + dz * n[from + 2] + most;
            }
            case Solid.SECTOR -> {
                double s = dx * n[from + 3] + dy * n[from + 4] + dz * n[from + 5];
                double a = dx * n[from + 6] + dy * n[from + 7] + dz * n[from + 8];
                double b = dx * n[from + 9] + dy * n[from + 10] + dz * n[from + 11];
                double m = Math.sqrt(a * a + b * b);
                double cos = n[from + 12];
                double c = a >= m * cos ? m : a * cos + Math.abs(b) * n[from + 13];
                double most = Double.NEGATIVE_INFINITY;
                for (int i = from + Solid.SECTOR_CORNERS; i < to; i += 2) {
                    most = Math.max(most, s * n[i] + c * n[i + 1]);
                }
                yield dx * n[from] + dy * n[from + 1] + dz * n[from + 2] + most;
            }
            default -> {
                double most = Double.NEGATIVE_INFINITY;
                for (int i = from; i < to; i += 3) {
                    most = Math.max(most, dx * n[i] + dy * n[i + 1] + dz * n[i + 2]);
                }
                yield most;
            }
        };
    }

    /** Returns the greatest d.x over all pieces of a small node (one with a cluster), rounding included; d is a unit. */
    double reachOfCluster(Solid solid, int node, double dx, double dy, double dz) {
        int at = solid.spotFirst[node];
        int from = solid.clusterFirst[node];
        double most = Double.NEGATIVE_INFINITY;
        if (at >= 0) {
            double[] n = solid.spots;
            int end = solid.spotEnd[node];
            for (; at < end; at += 3) {
                double along = dx * n[at] + dy * n[at + 1] + dz * n[at + 2];
                most = along > most ? along : most;
            }
            return most + solid.rounding[~solid.child[solid.clustered[from]]];
        }
        int to = from + solid.clusterCount[node];
        for (int k = from; k < to; k++) {
            int piece = ~solid.child[solid.clustered[k]];
            most = Math.max(most, reach(solid, piece, dx, dy, dz) + solid.rounding[piece]);
        }
        return most;
    }

    /**
     * Returns the greatest d.x plus a share of the stray over a piece's core.
     *
     * @param strays for a point, a segment or a hull one number per corner; for others one for the whole piece
     */
    double reach(Solid solid, int piece, double dx, double dy, double dz, double[] strays, double share) {
        int kind = solid.kind[piece];
        if (kind == Solid.BOX || kind == Solid.ROUND || kind == Solid.SECTOR) {
            return reach(solid, piece, dx, dy, dz) + share * strays[0];
        }
        double[] n = solid.numbers;
        int from = solid.first[piece];
        int to = solid.first[piece + 1];
        double most = Double.NEGATIVE_INFINITY;
        for (int i = from, v = 0; i < to; i += 3, v++) {
            most = Math.max(most, dx * n[i] + dy * n[i + 1] + dz * n[i + 2] + share * strays[v]);
        }
        return most;
    }
}
