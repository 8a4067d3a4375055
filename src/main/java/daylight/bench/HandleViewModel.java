package daylight.bench;

import daylight.geometry.Direction;
import daylight.linkage.Mechanism.Driver;
import daylight.motion.Handle;
import daylight.units.Angle;
import daylight.units.Length;
import daylight.units.LengthFormat;
import daylight.units.Parsed;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Locale;
import java.util.Optional;
import javafx.beans.property.BooleanProperty;
import javafx.beans.property.DoubleProperty;
import javafx.beans.property.ReadOnlyStringProperty;
import javafx.beans.property.ReadOnlyStringWrapper;
import javafx.beans.property.SimpleBooleanProperty;
import javafx.beans.property.SimpleDoubleProperty;
import org.jspecify.annotations.Nullable;

/**
 * One handle: where it stands, how that reads, how it is typed, and how it plays through its range.
 *
 * <p>Values are changes from ride height, mm or radians, always inside the range.
 */
final class HandleViewModel {
    private static final String TRAVEL = " travel";
    /** A full play goes from ride height to one end, to the other, and back, in this time. */
    private static final double PLAY_SECONDS = 6;
    /** Angles are shown to a tenth of a degree. */
    private static final double STEP_DEG = 0.1;

    private final Handle handle;
    private final LengthFormat format;
    private final String lowWord;
    private final String highWord;
    private final DoubleProperty value;
    private final BooleanProperty playing = new SimpleBooleanProperty(this, "playing", false);
    private final BooleanProperty together = new SimpleBooleanProperty(this, "together", false);
    private final ReadOnlyStringWrapper refusal = new ReadOnlyStringWrapper(this, "refusal", "");
    private @Nullable HandleViewModel otherSide;
    /** Where in its play it is, radians; not a number while it does not play. */
    private double playPhase = Double.NaN;

    HandleViewModel(Handle handle, Driver driver, LengthFormat format) {
        this.handle = handle;
        this.format = format;
        String[] words = words(driver);
        this.lowWord = words[0];
        this.highWord = words[1];
        this.value = new SimpleDoubleProperty(this, "value", 0) {
            @Override
            public void set(double wanted) {
                super.set(Math.max(handle.lowest(), Math.min(handle.highest(), wanted)));
            }
        };
    }

    /** The words for below and above ride height, from what the handle does. */
    private static String[] words(Driver driver) {
        if (driver instanceof Driver.Rise) {
            return new String[] {"droop", "bump"};
        }
        if (driver instanceof Driver.RodLength) {
            return new String[] {"shorter", "longer"};
        }
        if (driver instanceof Driver.Travel travel) {
            Direction along = travel.along();
            double most = Math.max(Math.abs(along.x()), Math.max(Math.abs(along.y()), Math.abs(along.z())));
            if (Math.abs(along.y()) == most) {
                return ordered(along.y(), "right", "left");
            }
            return Math.abs(along.x()) == most ? ordered(along.x(), "back", "ahead") : ordered(along.z(), "down", "up");
        }
        return driver.lowest() == 0 ? new String[] {"shut", "open"} : new String[] {"minus", "plus"};
    }

    private static String[] ordered(double sign, String low, String high) {
        return sign < 0 ? new String[] {high, low} : new String[] {low, high};
    }

    /** Joins the handles of the two sides of an axle, so that they can move together. */
    static void join(HandleViewModel left, HandleViewModel right) {
        left.otherSide = right;
        right.otherSide = left;
        left.together.bindBidirectional(right.together);
        left.follow(right);
        right.follow(left);
        left.together.addListener((property, was, is) -> {
            if (is) {
                right.value.set(left.value.get());
            }
        });
    }

    private void follow(HandleViewModel other) {
        other.value.addListener((property, was, is) -> {
            if (together.get()) {
                value.set(is.doubleValue());
            }
        });
    }

    Handle handle() {
        return handle;
    }

    String name() {
        return handle.name();
    }

    /** What stands beside the slider: the name, without the word that its ends say. */
    String label() {
        String name = handle.name();
        return name.endsWith(TRAVEL) && highWord.equals("bump")
                ? name.substring(0, name.length() - TRAVEL.length())
                : name;
    }

    /** The word for values below ride height. */
    String lowWord() {
        return lowWord;
    }

    /** The word for values above ride height. */
    String highWord() {
        return highWord;
    }

    /** Whether greater values belong on the left of the picture, as for the steering. */
    boolean reversed() {
        return highWord.equals("left");
    }

    /** The other side of the axle, if there is one. */
    Optional<HandleViewModel> otherSide() {
        return Optional.ofNullable(otherSide);
    }

    DoubleProperty valueProperty() {
        return value;
    }

    double value() {
        return value.get();
    }

    /** Whether it moves by itself, back and forth. */
    BooleanProperty playingProperty() {
        return playing;
    }

    /** Whether both sides of the axle move alike. */
    BooleanProperty togetherProperty() {
        return together;
    }

    /** Why the last typed text was not taken; empty while nothing is wrong. */
    ReadOnlyStringProperty refusalProperty() {
        return refusal.getReadOnlyProperty();
    }

    /** Returns the present value as text, for example {@code 1 3/8 in bump}. */
    String text() {
        return text(value.get());
    }

    /** Returns a value as text. */
    String text(double shown) {
        if (handle.turns()) {
            BigDecimal degrees =
                    BigDecimal.valueOf(Math.toDegrees(Math.abs(shown))).setScale(1, RoundingMode.HALF_UP);
            return degrees.signum() == 0 ? "0 deg" : degrees.toPlainString() + " deg " + word(shown);
        }
        double nearest = format.nearest(Math.abs(shown));
        return nearest == 0 ? format.print(0) : format.print(nearest) + " " + word(shown);
    }

    private String word(double shown) {
        return shown < 0 ? lowWord : highWord;
    }

    /** Returns the range as text: {@code 4 in droop to 3 1/2 in bump}. */
    String range() {
        return text(handle.lowest()) + " to " + text(handle.highest());
    }

    /** The step of one press of an arrow key: what the text shows. */
    double step() {
        return handle.turns() ? Math.toRadians(STEP_DEG) * 5 : format.stepMm();
    }

    /**
     * Moves the handle to what a person typed: {@code 1 3/8}, {@code 1 3/8 in droop}, {@code -2}, {@code 12 deg}.
     *
     * @return whether it was understood and lies in the range; if not, {@link #refusalProperty} says why
     */
    boolean type(String typed) {
        String text = typed.strip();
        double sign = 1;
        String lower = text.toLowerCase(Locale.ROOT);
        boolean worded = true;
        if (lower.endsWith(lowWord)) {
            sign = -1;
            text = text.substring(0, text.length() - lowWord.length());
        } else if (lower.endsWith(highWord)) {
            text = text.substring(0, text.length() - highWord.length());
        } else {
            worded = false;
        }
        double wanted;
        if (handle.turns()) {
            Parsed<Angle> angle = Angle.parse(text);
            if (angle instanceof Parsed.Refused<Angle> refused) {
                return refuse(refused.reason() + ". " + refused.advice());
            }
            wanted = angle.value().map(Angle::rad).orElse(0.0);
        } else {
            Parsed<Length> length = Length.parse(text, format.unit());
            if (length instanceof Parsed.Refused<Length> refused) {
                return refuse(refused.reason() + ". " + refused.advice());
            }
            wanted = length.value().map(Length::mm).orElse(0.0);
        }
        if (worded && wanted < 0) {
            return refuse("\"" + typed.strip() + "\" has both a minus and a word. Write one of them.");
        }
        wanted *= sign;
        // What the text of an end shows is rounded, and typing it must reach the end.
        double slack = (handle.turns() ? Math.toRadians(STEP_DEG) : format.stepMm()) / 2;
        if (wanted < handle.lowest() - slack || wanted > handle.highest() + slack) {
            return refuse(text(wanted) + " is outside the travel. It reaches from " + range() + ".");
        }
        refusal.set("");
        playing.set(false);
        value.set(wanted);
        return true;
    }

    private boolean refuse(String why) {
        refusal.set(why);
        return false;
    }

    /** Forgets that something was typed wrongly. */
    void forgive() {
        refusal.set("");
    }

    /** Moves back to ride height and stops playing. */
    void toRideHeight() {
        playing.set(false);
        refusal.set("");
        value.set(0);
    }

    /** Moves on by some time if it plays; starts from where the handle stands. */
    void advance(double seconds) {
        if (!playing.get()) {
            playPhase = Double.NaN;
            return;
        }
        double middle = (handle.lowest() + handle.highest()) / 2;
        double half = (handle.highest() - handle.lowest()) / 2;
        if (Double.isNaN(playPhase)) {
            playPhase = half == 0 ? 0 : Math.asin(Math.max(-1, Math.min(1, (value.get() - middle) / half)));
        }
        playPhase += seconds * 2 * Math.PI / PLAY_SECONDS;
        value.set(middle + half * Math.sin(playPhase));
    }
}
