package daylight.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import daylight.clearance.GapRow;
import daylight.trim.FitSearch;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Comparator;
import java.util.Optional;

/** The answer to a question asked the other way round. */
public final class FindText {
    private FindText() {}

    /** Returns whether the car as the file has it is within what fits. */
    public static boolean asStatedFits(FitSearch.Found found) {
        return switch (found.question()) {
            case MOST_BUMP, WIDEST_TYRE -> found.mostMm().orElse(-1.0) >= found.statedMm();
            case LOWEST_RIDE -> found.mostMm().orElse(-1.0) >= 0;
            case BACKSPACING ->
                found.leastMm().isPresent()
                        && found.leastMm().get() <= found.statedMm()
                        && found.mostMm().orElse(0.0) >= found.statedMm();
        };
    }

    /** Returns the answer as text. */
    public static String of(String car, FitSearch.Found found, boolean inches) {
        LengthFormat format = LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE);
        Wording wording = Wording.in(format);
        StringBuilder text = new StringBuilder(car)
                .append(": ")
                .append(found.question().word())
                .append(", ")
                .append(found.of())
                .append("\n\n")
                .append(answer(found, format))
                .append("\n\nLooked at:\n");
        for (FitSearch.Look look : found.looks()) {
            text.append(look.fits() ? "  fits      " : "  too near  ")
                    .append(look.label().isEmpty() ? format.print(look.valueMm()) : look.label());
            look.tightest().ifPresent(row -> text.append("   tightest: ").append(pair(row, format, wording)));
            text.append('\n');
        }
        for (GapRow row : found.leftOut()) {
            text.append("Left out, since it is below its rule whatever the bump: ")
                    .append(pair(row, format, wording))
                    .append(".\n");
        }
        text.append(ground(found, format))
                .append(
                        "\nGeometry, not strength: check it on the car itself. Never go under a car that only a jack holds.\n");
        return text.toString();
    }

    private static String pair(GapRow row, LengthFormat format, Wording wording) {
        return row.first() + " / " + row.second() + " "
                + wording.gapWithUnit(row.least().found().distanceMm()) + ", asked "
                + format.print(format.notBelow(row.requiredMm()));
    }

    private static double down(LengthFormat format, double mm) {
        return 0.0 - format.notBelow(0.0 - mm);
    }

    private static String answer(FitSearch.Found found, LengthFormat format) {
        Optional<GapRow> limit = found.looks().stream()
                .filter(look -> !look.fits())
                .min(Comparator.comparingDouble(FitSearch.Look::valueMm))
                .flatMap(FitSearch.Look::tightest);
        String then = limit.map(row -> ", then " + row.first() + " / " + row.second() + " goes below its rule")
                .orElse("");
        String stated = format.print(found.statedMm());
        return switch (found.question()) {
            case MOST_BUMP -> {
                double most = found.mostMm().orElse(0.0);
                yield found.openEnd()
                        ? "Even " + format.print(down(format, most)) + " of bump keeps every gap (stated: " + stated
                                + "); more was not looked at."
                        : "The most bump is " + format.print(down(format, most)) + then + ". Stated: " + stated + ".";
            }
            case LOWEST_RIDE -> {
                double lower = found.mostMm().orElse(0.0);
                yield lower >= 0
                        ? "It may stand " + format.print(down(format, lower)) + " lower and keep all of its " + stated
                                + " of bump" + (found.openEnd() ? "; lower was not looked at." : then + ".")
                        : "As it stands it does not keep all of its " + stated + " of bump" + then
                                + ". It would have to stand " + format.print(format.notBelow(-lower)) + " higher.";
            }
            case WIDEST_TYRE ->
                found.mostMm().isEmpty()
                        ? "No width from the narrowest that goes on this rim fits" + then + "."
                        : "The widest that fits at every travel and lock is " + found.label()
                                + (found.openEnd() ? ", the widest that goes on this rim." : then + ".");
            case BACKSPACING ->
                found.leastMm().isEmpty()
                        ? "No backspacing fits (as it is: " + stated + ")."
                        : "Backspacing from "
                                + format.print(format.notBelow(found.leastMm().get())) + " to "
                                + format.print(down(format, found.mostMm().orElse(0.0)))
                                + " fits. As it is: " + stated + ".";
        };
    }

    /** On what the answer rests. */
    private static String ground(FitSearch.Found found, LengthFormat format) {
        return switch (found.question()) {
            case MOST_BUMP ->
                "Known to " + format.print(found.resolutionMm()) + ". A longer travel includes every shorter one, so"
                        + " gaps only close with it: nothing between was skipped.";
            case LOWEST_RIDE ->
                "Known to " + format.print(found.resolutionMm())
                        + ". Lowered on its springs with the bump stops moved along, a wheel rises that much further"
                        + " against the body: the same as more bump now. Ground clearance is not part of this.";
            case WIDEST_TYRE ->
                "Widths in steps of 10 mm, same shape and rim, same hub face and backspacing. A wider tyre of the same"
                        + " shape holds a narrower one, so halving skips nothing; that was not measured for every width.";
            case BACKSPACING ->
                "Known to " + format.print(found.resolutionMm())
                        + ". The wheel is shifted on its hub face; a shift by so much changes no gap by more, so the"
                        + " steps between the values looked at skip nothing.";
        };
    }

    /** Returns the answer as JSON text with a line feed at its end; mm. */
    public static String json(String car, FitSearch.Found found) {
        StringWriter text = new StringWriter();
        DefaultPrettyPrinter printer = new DefaultPrettyPrinter().withObjectIndenter(new DefaultIndenter("  ", "\n"));
        printer.indentArraysWith(new DefaultIndenter("  ", "\n"));
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.setPrettyPrinter(printer);
            json.writeStartObject();
            json.writeStringField("car", car);
            json.writeStringField("find", found.question().word());
            json.writeStringField("of", found.of());
            number(json, "stated", found.statedMm());
            optional(json, "least", found.leastMm());
            optional(json, "most", found.mostMm());
            json.writeStringField("label", found.label());
            json.writeBooleanField("end not reached", found.openEnd());
            number(json, "known to", found.resolutionMm());
            json.writeArrayFieldStart("looked at");
            for (FitSearch.Look look : found.looks()) {
                json.writeStartObject();
                number(json, "value", look.valueMm());
                json.writeBooleanField("fits", look.fits());
                if (look.tightest().isPresent()) {
                    json.writeStringField("first", look.tightest().get().first());
                    json.writeStringField("second", look.tightest().get().second());
                    number(json, "margin", look.tightest().get().marginMm());
                }
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.append('\n').toString();
    }

    private static void optional(JsonGenerator json, String name, Optional<Double> value) throws IOException {
        if (value.isPresent()) {
            number(json, name, value.get());
        } else {
            json.writeNullField(name);
        }
    }

    private static void number(JsonGenerator json, String name, double value) throws IOException {
        BigDecimal rounded = new BigDecimal(value).setScale(3, RoundingMode.HALF_EVEN);
        json.writeNumberField(name, rounded.signum() == 0 ? rounded.abs() : rounded);
    }
}
