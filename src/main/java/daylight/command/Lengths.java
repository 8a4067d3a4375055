package daylight.command;

import daylight.car.Car;
import daylight.units.Length;
import daylight.units.Parsed;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;

/** Lengths and units among the words of a command. */
final class Lengths {
    private Lengths() {}

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
