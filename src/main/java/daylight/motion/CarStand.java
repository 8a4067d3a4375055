package daylight.motion;

import daylight.car.Car;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import daylight.linkage.Outcome;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** All mechanisms of a car as linkages, moved together by the names of their handles. Not thread-safe. */
final class CarStand {
    private final List<Linkage> linkages = new ArrayList<>();
    private final List<double[]> values = new ArrayList<>();

    CarStand(Car car) {
        for (Mechanism mechanism : car.mechanisms()) {
            Linkage linkage = Linkage.of(mechanism);
            linkages.add(linkage);
            values.add(new double[linkage.driverCount()]);
        }
    }

    List<Linkage> linkages() {
        return linkages;
    }

    /** Returns the linkage that a body belongs to; null for the ground and for bodies that no mechanism has. */
    @org.jspecify.annotations.Nullable
    Linkage of(String body) {
        for (Linkage linkage : linkages) {
            if (linkage.bodies().contains(body)) {
                return linkage;
            }
        }
        return null;
    }

    /** Returns the values that are set for a linkage, in its own order; not to be modified. */
    double[] values(Linkage linkage) {
        return values.get(linkages.indexOf(linkage));
    }

    /** Puts every handle back to ride height, without moving anything yet. */
    void rest() {
        values.forEach(v -> Arrays.fill(v, 0));
    }

    /** Sets a handle wherever it is, without moving anything yet. */
    void set(String handle, double value) {
        for (int k = 0; k < linkages.size(); k++) {
            int d = linkages.get(k).driverNames().indexOf(handle);
            if (d >= 0) {
                values.get(k)[d] = value;
            }
        }
    }

    /** Moves two linkages (which may be one) to the values that are set; returns whether both got there. */
    boolean stand(Linkage first, Linkage second) {
        return stand(first) && (first == second || stand(second));
    }

    boolean stand(Linkage linkage) {
        Outcome outcome = linkage.solve(values.get(linkages.indexOf(linkage)));
        return outcome.solved();
    }

    /** Returns the way of a linkage along which one handle moves by one. */
    static double[] way(Linkage linkage, String handle, double by) {
        double[] way = new double[linkage.driverCount()];
        int d = linkage.driverNames().indexOf(handle);
        if (d >= 0) {
            way[d] = by;
        }
        return way;
    }

    /** Returns the sum of two ways. */
    static double[] sum(double[] first, double[] second) {
        double[] sum = first.clone();
        for (int d = 0; d < sum.length; d++) {
            sum[d] += second[d];
        }
        return sum;
    }
}
