package daylight.motion;

import java.util.List;
import java.util.OptionalDouble;

/**
 * What {@link TravelStudy} found: how far each movement really goes, and wheel geometry over it.
 *
 * @param car the car's name
 * @param wheels the wheels, with what was taken for their loaded radius
 * @param wheelbaseMm distance along x of the wheel centres, mm, if the car file has two axles
 * @param ranges real ranges, in the order of the car's handles, then axles
 * @param tables curves, wheels first, then steering, then roll
 * @param cautions what to look at, one sentence each; empty if nothing
 */
public record TravelReport(
        String car,
        List<WheelBasis> wheels,
        OptionalDouble wheelbaseMm,
        List<RealRange> ranges,
        List<TravelTable> tables,
        List<String> cautions) {
    public TravelReport {
        wheels = List.copyOf(wheels);
        ranges = List.copyOf(ranges);
        tables = List.copyOf(tables);
        cautions = List.copyOf(cautions);
    }

    /**
     * What wheel geometry took for a wheel.
     *
     * @param loadedRadiusMm height of the wheel centre above the ground, mm
     * @param because where that comes from
     */
    public record WheelBasis(String wheel, double loadedRadiusMm, String because) {}

    /** Returns whether a mechanism binds before the travel that the car file states. */
    public boolean binds() {
        return ranges.stream().anyMatch(RealRange::binds);
    }
}
