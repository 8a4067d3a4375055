package daylight.survey;

import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Looks for a second place of the whole car: distances do not know left from right, so a network that hangs on the
 * axes by few readings may fit as well turned over. Points with offsets of their own rule that out, and then nothing
 * is computed.
 */
final class WholeMirror {
    /** With more points than this tied to the axis, the whole cannot be turned over unseen. */
    private static final int MOST_TIES = 8;
    /** More readings off grossly after turning over than this: it is not the same car. */
    private static final int MOST_GROSS = 2;
    /** Off by more than this, mm or thousandths of a radian, is gross. */
    private static final double GROSS = 30;
    /** Two places whose sums differ by less are both possible. */
    private static final double EVEN = 4;
    /** Points that move by less, mm, are where they were. */
    private static final double ONE_PLACE_MM = 10;

    private static final double SHIFT_MM = 1000;

    private final Network network;
    private final Readings readings;

    WholeMirror(Network network, Readings readings) {
        this.network = network;
        this.readings = readings;
    }

    /**
     * Returns the points that could as well be elsewhere, all together. The outcome settled on is kept, unless the
     * other is nearer to the guesses or fits better.
     */
    List<MirrorChoice> choices(Settling settling) {
        for (Axis axis : Axis.values()) {
            for (double plane : planes(axis)) {
                Settling.State here = settling.new State();
                List<Spot> before = spots(settling.x);
                flip(axis, plane);
                if (gross() <= MOST_GROSS) {
                    settling.run();
                    List<Spot> after = spots(settling.x);
                    if (settling.objective < here.objective - EVEN) {
                        return new ArrayList<>();
                    }
                    if (settling.objective < here.objective + EVEN && moved(before, after)) {
                        int nearer = nearer(before, after);
                        if (nearer >= 0) {
                            here.restore();
                        }
                        return nearer == 0 ? all(before, after) : new ArrayList<>();
                    }
                }
                here.restore();
            }
        }
        return new ArrayList<>();
    }

    /** Coordinates of the points that a reading ties to the axis; none where there are so many that all is clear. */
    private List<Double> planes(Axis axis) {
        List<Double> planes = new ArrayList<>();
        for (int i = 0; i < readings.rows; i++) {
            double here = readings.value(i);
            shift(axis, SHIFT_MM);
            double there = readings.value(i);
            shift(axis, -SHIFT_MM);
            if (Math.abs(there - here) > GROSS) {
                for (int p : readings.pointsOf[i]) {
                    double at = readings.places[3 * p + axis.place()];
                    if (readings.unknownOf[p] >= 0 && planes.stream().noneMatch(c -> Math.abs(c - at) < 1)) {
                        planes.add(at);
                    }
                }
            }
            if (planes.size() > MOST_TIES) {
                return List.of();
            }
        }
        return planes;
    }

    private void shift(Axis axis, double mm) {
        for (int p : readings.soughtPoint) {
            readings.places[3 * p + axis.place()] += mm;
        }
    }

    private void flip(Axis axis, double plane) {
        for (int p : readings.soughtPoint) {
            int k = 3 * p + axis.place();
            readings.places[k] = 2 * plane - readings.places[k];
        }
    }

    private int gross() {
        int gross = 0;
        for (int i = 0; i < readings.rows; i++) {
            double factor = readings.equations[i].quantity() == Equation.Quantity.LENGTH ? 1 : 1000;
            gross += factor * Math.abs(readings.residual(i)) > GROSS ? 1 : 0;
        }
        return gross;
    }

    private List<Spot> spots(double[] x) {
        readings.put(x);
        List<Spot> spots = new ArrayList<>();
        for (int p : readings.soughtPoint) {
            spots.add(readings.spot(p));
        }
        return spots;
    }

    private static boolean moved(List<Spot> before, List<Spot> after) {
        for (int s = 0; s < before.size(); s++) {
            if (before.get(s).distanceTo(after.get(s)) > ONE_PLACE_MM) {
                return true;
            }
        }
        return false;
    }

    /** 1 if the guesses are nearer to the first places, -1 to the second, 0 if there are none. */
    private int nearer(List<Spot> before, List<Spot> after) {
        double sum = 0;
        for (int s = 0; s < before.size(); s++) {
            if (network.points().get(readings.soughtPoint[s]) instanceof SurveyPoint.Sought sought) {
                Optional<Spot> guess = sought.guess();
                if (guess.isPresent()) {
                    sum += guess.get().distanceTo(after.get(s)) - guess.get().distanceTo(before.get(s));
                }
            }
        }
        return Math.abs(sum) < ONE_PLACE_MM ? 0 : (int) Math.signum(sum);
    }

    private List<MirrorChoice> all(List<Spot> before, List<Spot> after) {
        List<MirrorChoice> choices = new ArrayList<>();
        for (int s = 0; s < before.size(); s++) {
            if (before.get(s).distanceTo(after.get(s)) > ONE_PLACE_MM) {
                choices.add(new MirrorChoice(readings.names[readings.soughtPoint[s]], before.get(s), after.get(s)));
            }
        }
        return choices;
    }
}
