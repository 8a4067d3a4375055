package daylight.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import daylight.clearance.GapCheck;
import daylight.geometry.Spot;
import daylight.survey.Equation.Quantity;
import daylight.survey.GapComparison;
import daylight.survey.MirrorChoice;
import daylight.survey.NextReading;
import daylight.survey.ReadingResult;
import daylight.survey.SurveyReport;
import daylight.survey.Suspect;
import daylight.survey.Unfixed;
import daylight.units.LengthFormat;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;

/** What the survey says, as JSON. Lengths in mm, angles in degrees, spots ahead, left, up; null where nothing is known. */
public final class MeasureJson {
    private static final int LENGTH_PLACES = 4;
    private static final int RATIO_PLACES = 3;

    private MeasureJson() {}

    /** Returns the report as JSON text with a line feed at its end. */
    public static String of(String car, SurveyReport report, List<GapCheck> gaps) {
        StringWriter text = new StringWriter();
        DefaultPrettyPrinter printer = new DefaultPrettyPrinter().withObjectIndenter(new DefaultIndenter("  ", "\n"));
        printer.indentArraysWith(new DefaultIndenter("  ", "\n"));
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.setPrettyPrinter(printer);
            json.writeStartObject();
            json.writeStringField("car", car);
            json.writeStringField("lengths", "mm");
            json.writeStringField("angles", "deg");
            points(json, report);
            readings(json, report);
            suspects(json, report);
            notFixed(json, report);
            SurveyReport.Agreement agreement = report.agreement();
            json.writeObjectFieldStart("agreement");
            number(json, "chi-square", agreement.chiSquare(), RATIO_PLACES);
            number(json, "degrees of freedom", agreement.degreesOfFreedom(), 0);
            number(json, "limit 95 per cent", agreement.limit95(), RATIO_PLACES);
            number(json, "doubt scale", agreement.doubtScale(), RATIO_PLACES);
            json.writeBooleanField("agrees", agreement.agrees());
            json.writeEndObject();
            gaps(json, gaps);
            next(json, "measure next", report.toFix());
            next(json, "to check", report.toCheck());
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.append('\n').toString();
    }

    private static void points(JsonGenerator json, SurveyReport report) throws IOException {
        json.writeArrayFieldStart("points");
        for (SurveyReport.PointLine point : report.points()) {
            json.writeStartObject();
            json.writeStringField("name", point.name());
            spot(json, "at", point.at());
            json.writeArrayFieldStart("within 95 per cent");
            for (double width : new double[] {point.forward95Mm(), point.left95Mm(), point.up95Mm()}) {
                value(json, width, LENGTH_PLACES);
            }
            json.writeEndArray();
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void readings(JsonGenerator json, SurveyReport report) throws IOException {
        json.writeArrayFieldStart("readings");
        for (ReadingResult reading : report.readings()) {
            Quantity quantity = reading.quantity();
            json.writeStartObject();
            json.writeStringField("reading", reading.reading());
            json.writeStringField("part", reading.part());
            json.writeStringField("quantity", quantity == Quantity.ANGLE ? "angle" : "length");
            measure(json, "reads", reading.reads(), quantity);
            measure(json, "fits", reading.adjusted(), quantity);
            measure(json, "residual", reading.residual(), quantity);
            measure(json, "standard uncertainty", reading.u(), quantity);
            number(json, "standardised residual", reading.standardised(), RATIO_PLACES);
            number(json, "redundancy", reading.redundancy(), RATIO_PLACES);
            measure(json, "smallest findable", reading.smallestFindable(), quantity);
            json.writeStringField("standing", MeasureCsv.word(reading.standing()));
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void suspects(JsonGenerator json, SurveyReport report) throws IOException {
        json.writeArrayFieldStart("suspects");
        for (Suspect suspect : report.suspects()) {
            json.writeStartObject();
            json.writeArrayFieldStart("accused");
            for (Suspect.Accused accused : suspect.accused()) {
                json.writeStartObject();
                json.writeStringField("reading", accused.reading());
                json.writeStringField("part", accused.part());
                measure(json, "reads", accused.reads(), accused.quantity());
                measure(json, "fits", accused.fits(), accused.quantity());
                measure(json, "probably true", accused.probablyTrue(), accused.quantity());
                number(json, "standardised residual", accused.standardised(), RATIO_PLACES);
                json.writeStringField("words", SurveyWords.accused(accused, LengthFormat.TENTHS_OF_MM));
                json.writeEndObject();
            }
            json.writeEndArray();
            names(json, "points in doubt", suspect.pointsInDoubt());
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void notFixed(JsonGenerator json, SurveyReport report) throws IOException {
        json.writeArrayFieldStart("not fixed");
        for (Unfixed unfixed : report.unfixed()) {
            json.writeStartObject();
            json.writeStringField("point", unfixed.point());
            json.writeStringField("along", unfixed.words());
            json.writeEndObject();
        }
        json.writeEndArray();
        names(json, "floating", report.floating());
        json.writeArrayFieldStart("two places");
        for (MirrorChoice choice : report.mirrorChoices()) {
            json.writeStartObject();
            json.writeStringField("point", choice.point());
            spot(json, "taken", choice.taken());
            spot(json, "other", choice.other());
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    /** Writes the gaps measured on the car against those computed. */
    static void gaps(JsonGenerator json, List<GapCheck> gaps) throws IOException {
        json.writeArrayFieldStart("measured gaps");
        for (GapCheck gap : gaps) {
            json.writeStartObject();
            json.writeStringField("first", gap.reading().first());
            json.writeStringField("second", gap.reading().second());
            json.writeBooleanField("counts", gap.reading().counts());
            number(json, "measured", gap.reading().readsMm(), LENGTH_PLACES);
            if (gap.comparison().isPresent()) {
                GapComparison comparison = gap.comparison().get();
                number(json, "measured standard uncertainty", comparison.measuredUMm(), LENGTH_PLACES);
                number(json, "computed", comparison.computedMm(), LENGTH_PLACES);
                number(json, "computed standard uncertainty", comparison.computedUMm(), LENGTH_PLACES);
                number(json, "standardised difference", comparison.standardised(), RATIO_PLACES);
                json.writeBooleanField("agrees", !gap.disagrees());
                if (gap.accused().isPresent()) {
                    Suspect.Accused accused = gap.accused().get();
                    number(json, "probably true", accused.probablyTrue(), LENGTH_PLACES);
                    json.writeStringField("words", SurveyWords.accused(accused, LengthFormat.TENTHS_OF_MM));
                }
            } else {
                json.writeNullField("computed");
                json.writeStringField("why", gap.why());
            }
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void next(JsonGenerator json, String name, List<NextReading> next) throws IOException {
        json.writeArrayFieldStart(name);
        for (NextReading reading : next) {
            json.writeStartObject();
            json.writeStringField("reading", reading.candidate().name());
            number(json, "would read", reading.wouldRead(), LENGTH_PLACES);
            json.writeStringField("gains", reading.gains());
            number(json, "before", reading.before(), LENGTH_PLACES);
            number(json, "after", reading.after(), LENGTH_PLACES);
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void names(JsonGenerator json, String name, List<String> names) throws IOException {
        json.writeArrayFieldStart(name);
        for (String each : names) {
            json.writeString(each);
        }
        json.writeEndArray();
    }

    private static void spot(JsonGenerator json, String name, Spot spot) throws IOException {
        json.writeArrayFieldStart(name);
        value(json, spot.x(), LENGTH_PLACES);
        value(json, spot.y(), LENGTH_PLACES);
        value(json, spot.z(), LENGTH_PLACES);
        json.writeEndArray();
    }

    private static void measure(JsonGenerator json, String name, double value, Quantity quantity) throws IOException {
        number(json, name, quantity == Quantity.ANGLE ? Math.toDegrees(value) : value, LENGTH_PLACES);
    }

    private static void number(JsonGenerator json, String name, double value, int places) throws IOException {
        json.writeFieldName(name);
        value(json, value, places);
    }

    private static void value(JsonGenerator json, double value, int places) throws IOException {
        if (!Double.isFinite(value)) {
            json.writeNull();
            return;
        }
        BigDecimal rounded = new BigDecimal(value).setScale(places, RoundingMode.HALF_EVEN);
        json.writeNumber(rounded.signum() == 0 ? rounded.abs() : rounded);
    }
}
