package daylight.command;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.report.Paper;
import daylight.report.SurveyWords;
import daylight.survey.MeasuredCar;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.nio.file.Path;
import java.util.Optional;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** What the commands on a car share: its file, the form of the answer, and the unit of lengths. A mixin. */
final class CarInput {
    @Spec(Spec.Target.MIXEE)
    private CommandSpec spec = CommandSpec.create();

    @Parameters(paramLabel = "CAR", description = "The car file.")
    private Path file = Path.of("");

    @ArgGroup(exclusive = true)
    private Form form = new Form();

    @Option(names = "--in", paramLabel = "UNIT", description = "Show lengths in: in, mm (as the car file has them).")
    private Optional<String> unit = Optional.empty();

    private static final class Form {
        @Option(names = "--json", description = "Write JSON (mm, degrees).")
        private boolean json;

        @Option(names = "--csv", description = "Write CSV for a spreadsheet.")
        private boolean csv;
    }

    /** Returns the car file's name as it was given. */
    Path file() {
        return file;
    }

    boolean json() {
        return form.json;
    }

    boolean csv() {
        return form.csv;
    }

    /**
     * Reads the car with its points where the tape puts them. A reading that was left out is told on the messages'
     * stream, in one line.
     */
    MeasuredCar read(Terminal terminal) throws CarFileException {
        MeasuredCar measured = MeasuredCar.read(file);
        LengthFormat format = LengthFormat.usual(inches(measured.car()) ? Unit.INCH : Unit.MILLIMETRE);
        SurveyWords.warning(measured, file.toString(), format)
                .ifPresent(line -> terminal.err().println(line));
        return measured;
    }

    /** Returns whether lengths are shown in inches (else in mm). */
    boolean inches(Car car) {
        return inches(car.inches());
    }

    /** Returns whether lengths are shown in inches (else in mm), for a file that has them so. */
    boolean inches(boolean asTheFileHasThem) {
        if (unit.isEmpty()) {
            return asTheFileHasThem;
        }
        return switch (Unit.spelt(unit.get()).orElse(Unit.FOOT)) {
            case INCH -> true;
            case MILLIMETRE -> false;
            default ->
                throw new ParameterException(spec.commandLine(), "--in takes in or mm, not \"" + unit.get() + "\"");
        };
    }

    /** Returns the paper asked for, or the usual one for such lengths. */
    Paper paper(Optional<String> word, boolean inches) {
        return word.isEmpty()
                ? Paper.usual(inches)
                : Paper.named(word.get())
                        .orElseThrow(() -> new ParameterException(
                                spec.commandLine(), "--paper takes A4 or letter, not \"" + word.get() + "\""));
    }
}
