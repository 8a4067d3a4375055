package daylight.report;

import daylight.motion.Curve;
import daylight.motion.Quantity;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.OptionalDouble;

/** How the numbers of travel are printed: the unit of the car file, and the places that mean something. */
final class TravelUnits {
    private static final int ANGLE_PLACES = 2;
    private static final int RATIO_PLACES = 3;

    private final boolean inches;

    TravelUnits(boolean inches) {
        this.inches = inches;
    }

    /** Returns the unit as it stands in a heading. */
    String unit(Quantity quantity) {
        return switch (quantity) {
            case LENGTH -> inches ? "in" : "mm";
            case ANGLE -> "deg";
            case ANGLE_PER_LENGTH -> inches ? "deg/in" : "deg/mm";
            case RATIO -> "";
            case PERCENT -> "%";
        };
    }

    /** Returns a value in the unit of {@link #unit}. */
    double in(Quantity quantity, double value) {
        return switch (quantity) {
            case LENGTH -> inches ? value / Unit.INCH.mm() : value;
            case ANGLE_PER_LENGTH -> inches ? value * Unit.INCH.mm() : value;
            case ANGLE, RATIO, PERCENT -> value;
        };
    }

    /** Returns a value as text without its unit; empty for no value. */
    String print(Curve curve, int row) {
        OptionalDouble value = curve.values().get(row);
        return value.isEmpty() ? "" : decimal(in(curve.quantity(), value.getAsDouble()), places(curve.quantity()));
    }

    /** Returns a value with so many more places, for programs. */
    String precise(Curve curve, int row) {
        OptionalDouble value = curve.values().get(row);
        return value.isEmpty() ? "" : decimal(in(curve.quantity(), value.getAsDouble()), places(curve.quantity()) + 3);
    }

    /** Returns the movement as a tape shows it: sixteenths of an inch, tenths of a millimetre. */
    String tape(Curve along, int row) {
        double value = along.values().get(row).orElse(0);
        return along.quantity() == Quantity.LENGTH
                ? LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE).bare(value)
                : print(along, row);
    }

    private int places(Quantity quantity) {
        return switch (quantity) {
            case LENGTH -> inches ? 2 : 1;
            case ANGLE -> ANGLE_PLACES;
            case ANGLE_PER_LENGTH -> inches ? 3 : 4;
            case RATIO -> RATIO_PLACES;
            case PERCENT -> 0;
        };
    }

    static String decimal(double value, int places) {
        BigDecimal number = BigDecimal.valueOf(value).setScale(places, RoundingMode.HALF_EVEN);
        return (number.signum() == 0 ? number.abs() : number).toPlainString();
    }

    /** Returns a number to so many places, without trailing zeros. */
    static String shortest(double value, int places) {
        BigDecimal number = BigDecimal.valueOf(value)
                .setScale(places, RoundingMode.HALF_EVEN)
                .stripTrailingZeros();
        return number.signum() == 0 ? "0" : number.toPlainString();
    }
}
