package daylight.report;

import daylight.clearance.Least;
import daylight.clearance.Position;
import daylight.motion.EarlierEnd;
import daylight.motion.Setting;
import daylight.units.LengthFormat;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** How gaps and positions are said, the same everywhere: in the terminal, on paper, and in the window. */
public final class Wording {
    /** Angles are shown to this. */
    private static final double SHOWN_DEGREES = 0.1;

    private static final String TRAVEL = " travel";
    /** An adjustable rod's handle is called so after its rod. */
    private static final String LENGTH = " length";
    /** The handle that both front corners share when a rack steers them. */
    private static final String STEER = "steer";

    private final LengthFormat format;

    private Wording(LengthFormat format) {
        this.format = format;
    }

    /** Returns the wording for a format of lengths. */
    public static Wording in(LengthFormat format) {
        return new Wording(format);
    }

    /**
     * Returns a gap as text without its unit, rounded down to the format's step, so that it never looks wider than it
     * is: a touch of a hundredth of an inch reads -1/16, not 0.
     */
    public String gap(double mm) {
        return format.bare(roundedDown(mm));
    }

    /** Returns a gap as text with its unit, rounded down. */
    public String gapWithUnit(double mm) {
        return format.print(roundedDown(mm));
    }

    /** Returns a required gap as text without its unit, rounded up, so that it never looks smaller than it is. */
    public String required(double mm) {
        return format.bare(format.notBelow(mm));
    }

    private double roundedDown(double mm) {
        return 0.0 - format.notBelow(0.0 - mm);
    }

    /** Returns where a handle stands: {@code front left 2 7/8 in bump}, {@code steer 1 1/4 in left}. */
    public String setting(Setting setting) {
        double value = setting.value();
        if (setting.turns()) {
            return setting.name() + " " + degrees(value);
        }
        if (setting.name().endsWith(TRAVEL)) {
            String where = setting.name().substring(0, setting.name().length() - TRAVEL.length());
            return where + " " + side(value, "bump", "droop");
        }
        if (setting.name().endsWith(LENGTH)) {
            String rod = setting.name().substring(0, setting.name().length() - LENGTH.length());
            return rod + " " + side(value, "longer", "shorter");
        }
        if (setting.name().equals(STEER)) {
            // The rack's own movement: with the rack behind the axle the wheels turn the other way.
            return "rack " + side(value, "left", "right");
        }
        return shift(setting);
    }

    /** Returns a play's shift: {@code exhaust sideways +1/4 in}. */
    public String shift(Setting setting) {
        return setting.name() + " " + (setting.value() < 0 ? "-" : "+") + format.print(Math.abs(setting.value()));
    }

    /**
     * Returns how far a side of a handle is searched and why no further: {@code front left 2 7/8 in bump, where the
     * left bump stop ends it (solid); the car file states 3 1/2 in}.
     */
    public String earlierEnd(EarlierEnd end) {
        String stated = end.turns() ? degrees(Math.abs(end.stated())) : format.print(Math.abs(end.stated()));
        return setting(end.setting()) + ", where the " + end.by().limit() + " ends it ("
                + end.by().state() + "); the car file states " + stated;
    }

    private String side(double mm, String positive, String negative) {
        double shown = format.nearest(mm);
        if (shown == 0) {
            return "as at rest";
        }
        return format.print(Math.abs(mm)) + " " + (mm < 0 ? negative : positive);
    }

    private static String degrees(double radians) {
        double degrees = Math.rint(Math.toDegrees(radians) * 10) / 10;
        return String.format(Locale.ROOT, "%.1f deg", degrees == 0 ? 0.0 : degrees);
    }

    private boolean atRest(Setting setting) {
        return setting.turns()
                ? Math.abs(Math.toDegrees(setting.value())) < SHOWN_DEGREES / 2
                : format.nearest(setting.value()) == 0;
    }

    /** Returns a whole position in one line: what is not as at rest, or that all is. */
    public String position(Position position) {
        List<String> words = new ArrayList<>();
        for (Setting setting : position.handles()) {
            if (!atRest(setting)) {
                words.add(setting(setting));
            }
        }
        if (words.isEmpty()) {
            words.add("at ride height");
        }
        for (Setting setting : position.shifts()) {
            if (format.nearest(setting.value()) != 0) {
                words.add(shift(setting));
            }
        }
        return String.join(", ", words);
    }

    /** Returns how well the floor is known, in a few words. */
    public static String proof(Least.Proof proof) {
        if (proof instanceof Least.Proof.Unproved unproved) {
            return "unproved: " + unproved.why();
        }
        return proof instanceof Least.Proof.FarApart ? "far apart" : "proved";
    }
}
