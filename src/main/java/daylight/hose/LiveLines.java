package daylight.hose;

import daylight.car.Car;
import daylight.geometry.Spot;
import daylight.motion.Workspace;
import java.util.ArrayList;
import java.util.List;

/**
 * A car's flexible lines as they lie wherever the car is put, to be drawn while it moves: nothing shifted within its
 * play, each shape solved from the last one, so that it stays on its side.
 *
 * <p>Cost: one warm solve per piece of a line, some 0.2 ms; a first shape some ten times that. An engine: not
 * thread-safe; it may be made on one thread and used on another.
 */
public final class LiveLines {
    private final List<LineTravel> lines = new ArrayList<>();
    private final List<LineShape> shapes = new ArrayList<>();
    private final List<double[]> freedoms = new ArrayList<>();

    private LiveLines(Car car) {
        Workspace workspace = Workspace.of(car);
        for (Car.Hose hose : car.hoses()) {
            // No position is asked for twice, so none is kept.
            LineTravel line = new LineTravel(hose, new Stances(workspace.kinematics(), 0));
            lines.add(line);
            shapes.add(new LineShape(line));
            freedoms.add(new double[line.freedoms.size()]);
        }
    }

    /**
     * Returns the lines of a car, with the shapes that they take at ride height solved already.
     *
     * @throws IllegalArgumentException if the car's mechanisms cannot be compiled (the reader of car files refuses such
     *     cars)
     */
    public static LiveLines of(Car car) {
        LiveLines live = new LiveLines(car);
        live.lie(new double[Workspace.of(car).handles().size()]);
        return live;
    }

    /**
     * How a line lies.
     *
     * @param name of the line
     * @param state whether it has a shape there
     * @param centreLine spots along it, mm, car frame; the ends of its pieces where it has no shape
     * @param tightestRadiusMm least radius of the centre line; infinite where it has no shape
     */
    public record Lie(String name, State state, List<Spot> centreLine, double tightestRadiusMm) {
        public Lie {
            centreLine = List.copyOf(centreLine);
        }
    }

    /** Whether a line has a shape. */
    public enum State {
        /** It reaches, and bends no tighter than allowed. */
        REACHES,
        /** It reaches, and bends tighter than its maker allows. */
        KINKS,
        /** It is too short there. */
        TAUT,
        /** The computation did not settle, or the car cannot stand there. */
        UNKNOWN
    }

    /**
     * Puts the car somewhere and lets every line lie.
     *
     * @param values one value per handle of the car's workspace, mm or rad; not modified
     * @return the lines in file order
     */
    public List<Lie> lie(double[] values) {
        List<Lie> lies = new ArrayList<>();
        for (int i = 0; i < lines.size(); i++) {
            lies.add(lie(lines.get(i), shapes.get(i), freedoms.get(i), values));
        }
        return lies;
    }

    private static Lie lie(LineTravel line, LineShape shape, double[] at, double[] values) {
        for (int f = 0; f < at.length; f++) {
            int handle = line.freedoms.get(f).handle();
            at[f] = handle >= 0 ? values[handle] : 0;
        }
        String name = line.hose.name();
        if (!line.stand(at)) {
            return new Lie(name, State.UNKNOWN, List.of(), Double.POSITIVE_INFINITY);
        }
        Ending ending = shape.settle();
        if (ending != Ending.CONVERGED) {
            // A shape that was lost is looked for afresh once the line reaches again.
            shape.forget();
            List<Spot> straight = new ArrayList<>();
            for (int piece = 0; piece < line.pieces.size(); piece++) {
                int o = 18 * piece;
                straight.add(new Spot(shape.ends[o], shape.ends[o + 1], shape.ends[o + 2]));
                straight.add(new Spot(shape.ends[o + 9], shape.ends[o + 10], shape.ends[o + 11]));
            }
            return new Lie(
                    name,
                    ending == Ending.CANNOT_CLOSE ? State.TAUT : State.UNKNOWN,
                    straight,
                    Double.POSITIVE_INFINITY);
        }
        List<Spot> spots = new ArrayList<>();
        double tightest = Double.POSITIVE_INFINITY;
        for (Rod rod : shape.rods) {
            if (rod.outcome(Ending.CONVERGED) instanceof Outcome.Reaches reaches) {
                List<Spot> piece = reaches.shape().centreLine();
                spots.addAll(spots.isEmpty() ? piece : piece.subList(1, piece.size()));
                tightest = Math.min(tightest, reaches.shape().tightestRadiusMm());
            }
        }
        return new Lie(name, tightest < line.radiusMm ? State.KINKS : State.REACHES, spots, tightest);
    }
}
