package daylight.survey;

import daylight.geometry.Spot;
import daylight.units.Progress;
import java.util.BitSet;
import java.util.List;
import java.util.Optional;

/**
 * Turns what was read with tape, bob and level into points, with their doubt and with the readings that cannot be
 * right.
 *
 * <p>Weighted least squares with data snooping; needs no starting values: they are found from the readings by
 * trilateration, coordinates and mirrors, and where two mirror images suit both are tried.
 *
 * <pre>{@code
 * Adjustment adjustment = Survey.of(network).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
 * adjustment.points().spot("lf lower ball joint");
 * adjustment.suspects();
 * }</pre>
 *
 * <p>An engine: holds work arrays, not thread-safe; the network is not changed. Cost of one adjustment: about the
 * cube of the number of unknowns (three for each sought point), some ten times.
 */
public final class Survey {
    /** What the readings have to fix. */
    public enum Datum {
        /** Places in the car's axes: what is not tied to them is reported as not fixed. */
        CAR_AXES,
        /**
         * Only the points among one another: the whole may float and turn where nothing holds it. It then stays near
         * the guesses, and the doubt of its coordinates is the least that any choice of axes gives (inner
         * constraints); what is computed from distances and angles does not depend on it. With a known point in
         * the network there is nothing to choose, and this is as {@link #CAR_AXES}.
         */
        FREE
    }

    /** Starts drawn afresh when the readings do not come together from the first. */
    private static final int MOST_STARTS = 12;
    /** Choices between mirror images that are tried the other way. */
    private static final int MOST_TURNS = 24;
    /** A start has gone wrong rather than the readings when more than this share of them disagrees. */
    private static final double TOO_MANY = 0.1;
    /** A sum of squares beyond this probability comes from a wrong start before it comes from the readings. */
    private static final double NEVER = 0.9999;

    private final Network network;
    private final Readings readings;

    private Survey(Network network) {
        this.network = network;
        this.readings = new Readings(network);
    }

    /** Compiles a network. */
    public static Survey of(Network network) {
        return new Survey(network);
    }

    /**
     * Adjusts the network.
     *
     * @param progress told how far the work has come; when it is cancelled the result says so and is not to be used
     */
    public Adjustment adjust(Datum datum, Progress progress) {
        progress.at(0, "placing points");
        StartingPlaces starts = new StartingPlaces(network, readings);
        Settling settling = new Settling(readings, network.graduation(), progress);
        int tried = 1;
        boolean guessed = putGuesses();
        if (!guessed) {
            starts.place(0, new BitSet());
        }
        settling.run();
        Settling.State best = settling.new State();
        if (guessed && !clean(settling)) {
            starts.place(0, new BitSet());
            settling.run();
            tried++;
            best = better(best, settling);
        }
        BitSet turned = new BitSet();
        if (!clean(settling) && starts.decisions() > 0) {
            for (int d = 0; d < Math.min(starts.decisions(), MOST_TURNS) && !progress.cancelled(); d++) {
                progress.at(0.5, "trying mirror images");
                turned.flip(d);
                starts.place(0, turned);
                settling.run();
                tried++;
                if (isBetter(settling, best)) {
                    best = settling.new State();
                } else {
                    turned.flip(d);
                }
            }
        }
        best.restore();
        for (int variant = 1; variant < MOST_STARTS && hopeless(settling) && !progress.cancelled(); variant++) {
            progress.at(0.5, "trying another start");
            starts.place(variant, turned);
            settling.run();
            tried++;
            best = better(best, settling);
            best.restore();
        }
        List<MirrorChoice> choices = new WholeMirror(network, readings).choices(settling);
        if (choices.isEmpty()) {
            for (int p : readings.soughtPoint) {
                int point = p;
                starts.mirrorImage(p, settling.aside)
                        .ifPresent(other ->
                                choices.add(new MirrorChoice(readings.names[point], readings.spot(point), other)));
            }
        }
        progress.at(0.9, "checking readings");
        Adjustment result = new Adjustment(network, readings, settling, datum, tried, choices);
        progress.at(1, "adjusted");
        return result;
    }

    /** Takes the guesses as the start where every sought point has one. */
    private boolean putGuesses() {
        for (int p = 0; p < readings.pointCount; p++) {
            if (network.points().get(p) instanceof SurveyPoint.Sought sought) {
                Optional<Spot> guess = sought.guess();
                if (guess.isEmpty()) {
                    return false;
                }
                readings.places[3 * p] = guess.get().x();
                readings.places[3 * p + 1] = guess.get().y();
                readings.places[3 * p + 2] = guess.get().z();
            }
        }
        return readings.unknowns > 0;
    }

    private static boolean isBetter(Settling now, Settling.State best) {
        // A trifle less is rounding, and the earlier start is kept.
        return now.objective < best.objective - 1e-6 * (1 + best.objective);
    }

    private static Settling.State better(Settling.State best, Settling now) {
        return isBetter(now, best) ? now.new State() : best;
    }

    private boolean clean(Settling settling) {
        return settling.setAside == 0 && !unlikely(settling);
    }

    private boolean hopeless(Settling settling) {
        return settling.setAside > 2 + TOO_MANY * readings.rows || unlikely(settling);
    }

    private boolean unlikely(Settling settling) {
        double freedom = 0;
        for (int i = 0; i < readings.rows; i++) {
            freedom += settling.aside[i] ? 0 : settling.redundancy(i);
        }
        return freedom >= 0.5 && settling.chiSquare > Coverage.chiSquare(NEVER, freedom);
    }
}
