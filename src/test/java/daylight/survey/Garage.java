package daylight.survey;

import daylight.geometry.Spot;
import daylight.units.Length;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;

/**
 * A simulated garage: a car whose points are known exactly, measured as a careful home builder would, with a tape in
 * sixteenths whose hook and aim err within what is claimed for them. Everything follows from the seed.
 *
 * <p>Four pegs on the floor and a number of points, half of them mirrored on the other side. Each point has a height,
 * most have plumb-bob offsets, all have several tapes to pegs and to one another; a quarter are known by tape alone.
 */
final class Garage {
    static final double INCH = Length.MM_PER_INCH;
    /** Tape to 1/16 in, hook within 1/32 in, aim within 1/32 in, a tape of class II; level 0.1 degrees. */
    static final MeasuringDefaults DEFAULTS = new MeasuringDefaults(
            INCH / 16,
            INCH / 32,
            INCH / 32,
            new TapeLimit.Growing(0.3, 0.2, 0.2),
            Math.toRadians(0.1),
            Math.toRadians(0.1),
            INCH / 4,
            0.5);

    private static final String FLOOR = "floor";
    /** Index of the first peg, and of the first point. */
    private static final int PEG = 1;

    private static final int POINT = 5;

    final List<SurveyPoint> points = new ArrayList<>();
    final List<Spot> truth = new ArrayList<>();
    final List<Observation> readings = new ArrayList<>();
    private final SplittableRandom random;

    Garage(long seed, int count) {
        this(seed, count, 2);
    }

    /**
     * A garage with more or fewer tapes.
     *
     * @param extra tapes of each point beyond the one or two that it needs: so many to pegs and as many to other points
     */
    Garage(long seed, int count, int extra) {
        random = new SplittableRandom(seed);
        points.add(new SurveyPoint.Known(FLOOR, Spot.ORIGIN));
        truth.add(Spot.ORIGIN);
        double[][] pegs = {{900, 700}, {900, -700}, {-900, 700}, {-900, -700}};
        for (int k = 0; k < pegs.length; k++) {
            point("peg " + (k + 1), new Spot(pegs[k][0] + between(-200, 200), pegs[k][1] + between(-200, 200), 0));
            height(PEG + k);
            offset(PEG + k, Axis.FORWARD);
            offset(PEG + k, Axis.LEFT);
        }
        for (int a = 0; a < 4; a++) {
            for (int b = a + 1; b < 4; b++) {
                distance(PEG + a, PEG + b);
            }
        }
        for (int k = 0; k < count; k++) {
            int at = truth.size();
            boolean mirrored = k % 2 == 1;
            if (mirrored) {
                Spot left = truth.get(at - 1);
                double half = DEFAULTS.mirrorMm();
                point(
                        "right " + k / 2,
                        left.mirrored().plus(between(-half, half), between(-half, half), between(-half, half)));
                readings.add(new Observation.Mirror(
                        "mirror " + k / 2,
                        points.get(at - 1).name(),
                        points.get(at).name(),
                        DEFAULTS.mirrorUMm()));
            } else {
                point("left " + k / 2, new Spot(between(-800, 800), between(150, 800), between(150, 900)));
            }
            boolean tapeOnly = random.nextInt(4) == 0;
            if (!tapeOnly) {
                height(at);
                offset(at, Axis.FORWARD);
                offset(at, Axis.LEFT);
            }
            int to = random.nextInt(4);
            for (int t = 0; t < (tapeOnly ? 2 : 1) + extra; t++) {
                distance(at, PEG + (to + t) % 4);
            }
            for (int t = 0; t < extra && at > POINT + 1; t++) {
                int other = POINT + random.nextInt(at - POINT);
                if (mirrored && other == at - 1) {
                    other = Math.max(POINT, at - 2);
                }
                distance(at, other);
            }
        }
    }

    Network network() {
        return new Network(points, readings, Network.Graduation.INCHES);
    }

    /** Whether a reading is a length off a tape, which a slip of the eye may spoil. */
    static boolean taped(Observation observation) {
        return observation instanceof Observation.Height
                || observation instanceof Observation.Coordinate
                || observation instanceof Observation.Distance;
    }

    /** Spoils one taped reading and returns its name: an inch, a few inches or a foot, either way, or a lost sign. */
    String plant() {
        while (true) {
            int i = random.nextInt(readings.size());
            Observation old = readings.get(i);
            if (!taped(old)) {
                continue;
            }
            double sign = random.nextBoolean() ? 1 : -1;
            double[] sizes = {1, 1, 1, 2, 3, 12, between(1, 8)};
            double slip = sign * sizes[random.nextInt(sizes.length)] * INCH;
            Observation spoilt = spoilt(old, slip, random.nextInt(5) == 0);
            if (spoilt != old) {
                readings.set(i, spoilt);
                return spoilt.name();
            }
        }
    }

    private static Observation spoilt(Observation old, double slip, boolean turn) {
        if (old instanceof Observation.Distance d && d.readsMm() + slip > INCH) {
            return new Observation.Distance(d.name(), d.from(), d.to(), d.readsMm() + slip, d.uMm());
        }
        if (old instanceof Observation.Height h && h.readsMm() + slip >= 0) {
            return new Observation.Height(h.name(), h.point(), h.readsMm() + slip, h.uMm());
        }
        if (old instanceof Observation.Coordinate c) {
            double reads = turn && Math.abs(c.readsMm()) > INCH ? -c.readsMm() : c.readsMm() + slip;
            return new Observation.Coordinate(c.name(), c.point(), c.axis(), c.datumMm(), reads, c.uMm());
        }
        return old;
    }

    private void point(String name, Spot at) {
        points.add(SurveyPoint.Sought.of(name));
        truth.add(at);
    }

    private void height(int p) {
        double z = truth.get(p).z();
        // A peg stands on the floor, which a straight edge shows better than a tape.
        if (z == 0) {
            readings.add(new Observation.AxisDistance(
                    name(p) + " on the floor",
                    FLOOR,
                    name(p),
                    Axis.UP,
                    between(-0.3, 0.3),
                    MeasuringDefaults.rectangular(0.3)));
        } else {
            double reads = Math.max(0, read(z, true));
            readings.add(new Observation.Height(name(p) + " height", name(p), reads, DEFAULTS.offsetUMm(reads)));
        }
    }

    private String name(int p) {
        return points.get(p).name();
    }

    private void offset(int p, Axis axis) {
        double reads = read(axis.of(truth.get(p)), true);
        readings.add(new Observation.Coordinate(
                name(p) + " " + axis.words(), name(p), axis, 0, reads, DEFAULTS.offsetUMm(reads)));
    }

    private void distance(int a, int b) {
        String name = name(a) + " to " + name(b);
        if (a == b || readings.stream().anyMatch(r -> r.name().equals(name))) {
            return;
        }
        double reads = read(truth.get(a).distanceTo(truth.get(b)), false);
        readings.add(new Observation.Distance(name, name(a), name(b), reads, DEFAULTS.distanceUMm(reads)));
    }

    /** What the tape shows: each error drawn evenly within its half width, then rounded to the nearest sixteenth. */
    private double read(double mm, boolean hooked) {
        double limit = DEFAULTS.tape().limitMm(Math.abs(mm));
        double first = hooked ? DEFAULTS.hookMm() : DEFAULTS.pointingMm();
        double shown = mm
                + between(-limit, limit)
                + between(-first, first)
                + between(-DEFAULTS.pointingMm(), DEFAULTS.pointingMm());
        return Math.rint(shown / DEFAULTS.tapeStepMm()) * DEFAULTS.tapeStepMm();
    }

    private double between(double low, double high) {
        return low + (high - low) * random.nextDouble();
    }
}
