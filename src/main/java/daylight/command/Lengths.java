package daylight.command;

import daylight.car.Car;
import daylight.units.Length;
import daylight.units.Parsed;
import daylight.units.Unit;
import java.util.Optional;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;

/** Lengths and units among the words of a command. */
final class Lengths {
    private Lengths() {}

    /** Returns whether lengths are shown in inches: as {@code --in} says, else as the car file has them. */
    static boolean inches(CommandSpec spec, Optional<String> unit, Car car) {
        if (unit.isEmpty()) {
            return car.inches();
        }
        return switch (Unit.spelt(unit.get()).orElse(Unit.FOOT)) {
            case INCH -> true;
            case MILLIMETRE -> false;
            default ->
                throw new ParameterException(spec.commandLine(), "--in takes in or mm, not \"" + unit.get() + "\"");
        };
    }

    /** Returns the length that an option gives, mm, zero or more. */
    static double notNegative(CommandSpec spec, String option, String text, Car car) {
        Parsed<Length> parsed = Length.parse(text, car.unit());
        if (parsed instanceof Parsed.Refused<Length> refused) {
            throw new ParameterException(
                    spec.commandLine(), option + ": " + refused.reason() + ". " + refused.advice());
        }
        double mm = parsed.value().map(Length::mm).orElse(0.0);
        if (mm < 0) {
            throw new ParameterException(spec.commandLine(), option + ": " + text + " is below zero");
        }
        return mm;
    }
}
